#include "cli/commands.hpp"
#include "cli/farm_option_name.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/scenario_option.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/terminal_text.hpp"
#include "simulation/practice.hpp"
#include "simulation/read_scenario.hpp"
#include "simulation/scenario_text.hpp"
#include "simulation/truth_json.hpp"
#include "trial/counts_table.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

constexpr std::size_t most_trials = 10'000;

struct SimulateOptions {
  ScenarioOption scenario;
  std::string practice_file;
  bool list = false;
  std::map<std::string, double, std::less<>> numbers; ///< By FarmField::key.
  std::size_t trials = 1;
  std::uint64_t seed = 1;
  std::string counts_file;
  std::string larvae_file;
  std::string truth_file;
};

void set_field(CountModel& model, const FarmField& field, double value) {
  AuditFarm farm;
  farm.model = model;
  try {
    field.set(farm, value);
  } catch (const InputError& error) {
    throw InputError(fmt::format("{}: {}", farm_option_name(field), error.what()));
  }
  model = farm.model;
}

/// The number of untreated animals, as an option gives it.
void set_control(Scenario& scenario, const FarmField& field, double value) {
  const auto control = std::ranges::find(scenario.groups, Role::control, &ScenarioGroup::role);
  if (control == scenario.groups.end())
    throw InputError(fmt::format("{}: found no control group in the scenario {}; expected one",
                                 farm_option_name(field), in_quotes(scenario.name)));
  CountModel model;
  set_field(model, field, value);
  control->model.animals = model.control_animals;
}

/// The scenario with the numbers of the options in place of its own.
Scenario changed(Scenario scenario, const std::map<std::string, double, std::less<>>& numbers) {
  for (const FarmField& field : farm_fields()) {
    const auto found = numbers.find(field.key);
    if (found == numbers.end())
      continue;
    if (field.key == "control_animals") {
      set_control(scenario, field, found->second);
      continue;
    }
    for (ScenarioGroup& group : scenario.groups) {
      set_field(group.model, field, found->second);
      if (field.key == "factor_before" && !numbers.contains("factor_after"))
        group.model.factor_after = group.model.factor_before;
    }
  }
  check(scenario);
  return scenario;
}

/// Many farms over years, instead of one test.
void run_practice(const SimulateOptions& options) {
  const std::vector<std::string> inputs{options.practice_file};
  const std::vector<std::string> outputs =
      given({options.counts_file, options.larvae_file, options.truth_file});
  const bool on_screen = screen_is_free(outputs);
  check_outputs(outputs, inputs);
  Practice practice = read_practice(read_file(options.practice_file), options.practice_file);
  practice.test = changed(std::move(practice.test), options.numbers);
  std::vector<Trial> trials;
  for (SimulatedTrial& simulated : simulate(practice, options.seed))
    trials.push_back(std::move(simulated.trial));
  if (!options.larvae_file.empty())
    throw InputError("--larvae-table: found it beside --practice; expected one of them (a "
                     "practice's larvae are not written)");
  std::vector<OutputFile> files{{options.counts_file, counts_table(trials)}};
  if (!options.truth_file.empty())
    files.push_back({options.truth_file, practice_truth_json(practice, options.seed)});
  write_files(files, inputs);
  if (on_screen)
    show(paragraph(fmt::format("{}: {} farms over {} years, invented, {} tests of {} groups each.",
                               practice.test.title, practice.farms.size(), practice.years,
                               trials.size(), practice.test.groups.size())) +
         fmt::format("Next: eggfall survey {}\n", options.counts_file));
}

void run_simulate(const SimulateOptions& options) {
  if (options.list) {
    show(scenario_list(built_in_scenarios()));
    return;
  }
  if (options.counts_file.empty())
    throw InputError("nothing to write; expected --counts FILE (the table of counts), or --list to "
                     "see the lessons");
  if (!options.practice_file.empty()) {
    run_practice(options);
    return;
  }
  const std::vector<std::string> outputs =
      given({options.counts_file, options.larvae_file, options.truth_file});
  const bool on_screen = screen_is_free(outputs);
  check_outputs(outputs, inputs_of(options.scenario));
  const Scenario scenario = changed(chosen_scenario(options.scenario), options.numbers);
  std::vector<SimulatedTrial> simulated;
  std::vector<Trial> trials;
  for (std::size_t number = 0; number < options.trials; ++number) {
    simulated.push_back(simulate(scenario, options.seed, static_cast<std::uint32_t>(number)));
    trials.push_back(simulated.back().trial);
  }
  std::vector<OutputFile> files{{options.counts_file, counts_table(trials)}};
  const std::string larvae = larvae_table(trials);
  if (!options.larvae_file.empty()) {
    if (larvae.empty())
      throw InputError(fmt::format("--larvae-table: found no cultures in the scenario {}; expected "
                                   "--worm-share below 100",
                                   in_quotes(scenario.name)));
    files.push_back({options.larvae_file, larvae});
  }
  if (!options.truth_file.empty())
    files.push_back({options.truth_file, truth_json(scenario, options.seed, simulated)});
  write_files(files, inputs_of(options.scenario));
  if (!on_screen)
    return;
  std::string text = scenario_text(scenario, options.trials);
  text += fmt::format("Next: eggfall analyse {}{}\n", options.counts_file,
                      options.larvae_file.empty() ? "" : " --larvae " + options.larvae_file);
  if (!larvae.empty() && options.larvae_file.empty())
    text += "The larvae of its cultures: --larvae-table FILE writes them.\n";
  if (!options.truth_file.empty())
    text += fmt::format("The truth, for whoever teaches: {}\n", options.truth_file);
  show(text);
}

} // namespace

void add_simulate(CLI::App& app, Action& action) {
  auto options = std::make_shared<SimulateOptions>();
  CLI::App& command = *app.add_subcommand(
      "simulate", "Invented tests with a known truth, as counts tables for analyse");
  add_scenario_option(command, options->scenario);
  command.add_flag("--list", options->list, "List the lessons and what each shows");
  command
      .add_option("--counts", options->counts_file,
                  "Write the counts table, CSV; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--larvae-table", options->larvae_file,
                  "Write the larvae told apart in cultures, CSV, where worms differ")
      ->type_name(file_value);
  command
      .add_option("--truth", options->truth_file,
                  "Write what it comes from, JSON (docs/data-format.md)")
      ->type_name(file_value);
  CLI::Option* const trials = command.add_option("--trials", options->trials, "Tests in the table")
                                  ->check(whole_number(most_trials, 1))
                                  ->capture_default_str();
  command
      .add_option("--practice", options->practice_file,
                  "Or many farms over many years, TOML (docs/survey.md)")
      ->type_name(file_value)
      ->excludes("--lesson")
      ->excludes("--scenario")
      ->excludes(trials);
  command.add_option("--seed", options->seed, "Seed: another one, another test")
      ->check(whole_number())
      ->capture_default_str();
  for (const FarmField& field : farm_fields())
    command.add_option_function<double>(
        farm_option_name(field),
        [options, key = std::string(field.key)](double value) { options->numbers[key] = value; },
        std::string(field.help));
  command.footer(
      "Numbers given take the place of the lesson's, in every group.\n"
      "Example: eggfall simulate --lesson few-eggs --counts trial.csv --truth truth.json");
  command.callback([options, &action] { action = [options] { run_simulate(*options); }; });
}

} // namespace eggfall::cli
