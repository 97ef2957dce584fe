#include "cli/carry_out.hpp"
#include "cli/chosen_cut_offs.hpp"
#include "cli/commands.hpp"
#include "cli/drug_class_option.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/read_tables.hpp"
#include "cli/reading_options.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"
#include "cli/work_options.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/source.hpp"
#include "eggfall/plan/plan.hpp"
#include "judgement/judge.hpp"
#include "judgement/unit_check.hpp"
#include "plan/plan_json.hpp"
#include "plan/plan_page.hpp"
#include "plan/plan_text.hpp"
#include "plan/work_out_plan.hpp"
#include "trial/field_words.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall::cli {
namespace {

constexpr std::size_t quick_trials = 100;

struct PlanOptions {
  std::string host;
  std::string worm;
  std::vector<std::string> classes;
  std::optional<double> mean_epg;
  std::string pilot;
  std::string sheet;
  std::optional<double> k;
  std::vector<std::string> counting{"50"};
  std::vector<std::size_t> sizes{PlanChoices::usual_sizes.begin(), PlanChoices::usual_sizes.end()};
  std::vector<std::string> designs{"paired"};
  std::vector<double> efficacies{PlanAim::usual_efficacies_percent.begin(),
                                 PlanAim::usual_efficacies_percent.end()};
  std::optional<std::size_t> animals;
  std::string criteria;
  std::string cut_offs_file;
  double power_percent = 100 * PlanAim().power;
  double season_change = PlannedFlock().season_change;
  double within_cv = PlannedFlock().within_cv;
  std::size_t trials = AuditSettings::default_trials;
  bool quick = false;
  std::uint64_t seed = PlanWish().seed;
  std::size_t threads = 0;
  std::string json_file;
  std::string csv_file;
  std::string report_file;
  bool verbose = false;
};

/// "50", "50:1.2" or "50:1.2:6": factor, cost and minutes of a sample.
CountingChoice parse_counting(const std::string& text) {
  std::vector<double> numbers;
  std::string_view rest = text;
  while (true) {
    const std::size_t colon = rest.find(':');
    const auto number = parse_number(rest.substr(0, colon));
    if (!number || *number < 0 || numbers.size() == 3 ||
        (!numbers.empty() && !CountingChoice::costs_or_minutes.hold(*number)))
      throw InputError(fmt::format("--factor: found {}; expected FACTOR, FACTOR:COST or "
                                   "FACTOR:COST:MINUTES, such as 15:2.5:8, with a cost and minutes "
                                   "of at most {}",
                                   in_quotes(text), CountingChoice::costs_or_minutes.most));
    numbers.push_back(*number);
    if (colon == std::string_view::npos)
      break;
    rest.remove_prefix(colon + 1);
  }
  CountingChoice counting{MultiplicationFactor(numbers[0]), std::nullopt, std::nullopt};
  if (numbers.size() > 1)
    counting.cost = numbers[1];
  if (numbers.size() > 2)
    counting.minutes = numbers[2];
  return counting;
}

constexpr std::string_view usual_host = "sheep";

/// What a table of pilot counts tells of the flock.
struct PilotTable {
  std::vector<Count> counts; ///< Before treatment, of every group.
  std::vector<std::string> hosts;
  std::vector<std::string> worms;
  std::vector<DrugClass> classes;
};

/// k of pools is not k of animals: pools are more even than the animals that are mixed in them.
void refuse_pool(const PlanOptions& options, const Animal& animal) {
  const Source source(options.pilot, options.sheet);
  if (animal.before->animals > 1)
    throw InputError(
        fmt::format("{}, {}: found a pool of {} animals; expected counts of single animals, "
                    "since pools do not show how uneven the animals are. Give --epg, and --k if it "
                    "is known, in place of --pilot",
                    source.shown(), source.line(animal.line), animal.before->animals));
}

/// As an analysis of the same numbers would doubt them. Taken for eggs, EPG make a flock of many
/// more eggs than will be seen, and a test of it look surer than it is.
void refuse_epg_as_eggs(const PlanOptions& options, const Group& counted) {
  const auto doubt = doubt_units(counted);
  if (doubt && doubt->kind == UnitDoubt::Kind::epg_as_eggs)
    throw InputError(fmt::format(
        "{}: these counts look like EPG, not like eggs seen: the {} different ones above zero are "
        "all multiples of {}, as eggs counted one by one hardly ever are; expected eggs seen, or "
        "EPG in a column epg_before with a factor of {} or what the method has. If they are eggs "
        "all the same, give --epg in place of --pilot",
        options.pilot, doubt->counts, divisor_text(*doubt), divisor_text(*doubt)));
}

PilotTable pilot_table(const PlanOptions& options) {
  ReadingOptions reading;
  reading.factor = parse_counting(options.counting.front()).factor.value();
  reading.sheet = options.sheet;
  const UnderstoodTables understood = read_tables({options.pilot}, reading, NeededCounts::before);
  tell_reading(understood);
  PilotTable table;
  for (const Trial& trial : understood.table.trials)
    for (const Group& group : trial.groups) {
      Group counted;
      for (const Animal& animal : group.animals)
        if (animal.before) {
          refuse_pool(options, animal);
          table.counts.push_back(*animal.before);
          Animal& before_alone = counted.animals.emplace_back();
          before_alone.before = animal.before;
          before_alone.repeats_before = animal.repeats_before;
        }
      refuse_epg_as_eggs(options, counted);
      if (!group.host.empty())
        table.hosts.push_back(group.host);
      if (!group.worm.empty())
        table.worms.push_back(group.worm);
      table.classes.insert(table.classes.end(), group.classes.begin(), group.classes.end());
    }
  return table;
}

/// Without what comes a second time.
template <typename T> std::vector<T> each_once(const std::vector<T>& values) {
  std::vector<T> once;
  for (const T& value : values)
    if (std::ranges::find(once, value) == once.end())
      once.push_back(value);
  return once;
}

/// What an option and the pilot's table say of the host, or of the worm: both the same, or the one
/// that is told. Nothing if neither tells.
std::string told_once(const PlanOptions& options, std::string_view option, const std::string& given,
                      const std::vector<std::string>& in_table) {
  const std::vector<std::string> tabled = each_once(in_table);
  if (tabled.size() > 1)
    throw InputError(fmt::format("{}: found {}; expected one for all groups, since a plan is for "
                                 "one: make a table of each",
                                 options.pilot, eggfall::in_words(tabled)));
  if (!given.empty() && !tabled.empty() && tabled.front() != given)
    throw InputError(fmt::format("{} {}: found {} in {}; expected the same in both: leave out the "
                                 "option, or correct one of the two",
                                 option, given, tabled.front(), options.pilot));
  return given.empty() && !tabled.empty() ? tabled.front() : given;
}

/// The classes of the options, or else those that the pilot's table names.
std::vector<DrugClass> classes_told(const PlanOptions& options, const PilotTable& table) {
  std::vector<DrugClass> given;
  for (const std::string& name : options.classes)
    given.push_back(drug_class_option(name));
  given = each_once(given);
  const std::vector<DrugClass> tabled = each_once(table.classes);
  if (given.empty())
    return tabled;
  for (const DrugClass each : tabled)
    if (std::ranges::find(given, each) == given.end())
      throw InputError(fmt::format("--class {}: found {} in {}; expected the same in both: leave "
                                   "out the option, or correct one of the two",
                                   to_string(given), to_string(each), options.pilot));
  return given;
}

PlannedFlock flock_of(const PlanOptions& options, const PilotTable& table,
                      const std::optional<Pilot>& pilot) {
  PlannedFlock flock;
  flock.host =
      told_once(options, "--host", options.host.empty() ? std::string() : host_told(options.host),
                table.hosts);
  if (flock.host.empty())
    flock.host = usual_host;
  flock.worm = told_once(options, "--worm", canonical_worm(options.worm), table.worms);
  flock.classes = classes_told(options, table);
  flock.mean_epg = pilot ? pilot->mean_epg : *options.mean_epg;
  flock.k = options.k ? *options.k : pilot ? pilot->k : flock.k;
  flock.within_cv = options.within_cv;
  flock.season_change = options.season_change;
  flock.animals = options.animals;
  return flock;
}

PlanChoices choices_of(const PlanOptions& options) {
  PlanChoices choices;
  for (const std::string& design : each_once(options.designs))
    choices.designs.push_back(*parse_design(design));
  choices.group_sizes = each_once(options.sizes);
  for (const std::string& text : each_once(options.counting))
    choices.counting.push_back(parse_counting(text));
  return choices;
}

Plan plan_of(const PlanOptions& options) {
  if (options.mean_epg.has_value() == !options.pilot.empty())
    throw InputError("found neither or both of --epg and --pilot; expected one of them: the mean "
                     "count expected, or a table of counts");
  PlanWish wish;
  PilotTable table;
  if (!options.pilot.empty()) {
    table = pilot_table(options);
    wish.pilot = pilot_of(table.counts, options.seed);
  }
  const CutOffs cut_offs =
      with_criteria_first(chosen_cut_offs(options.cut_offs_file), options.criteria);
  wish.flock = flock_of(options, table, wish.pilot);
  wish.choices = choices_of(options);
  for (const double efficacy : options.efficacies)
    wish.efficacies.push_back(efficacy / 100);
  wish.power = options.power_percent / 100;
  wish.trials = options.quick ? quick_trials : options.trials;
  wish.seed = options.seed;
  return work_out_plan(wish, cut_offs, simulated);
}

void run_plan(const PlanOptions& options) {
  const std::vector<std::string> outputs =
      given({options.json_file, options.csv_file, options.report_file});
  const std::vector<std::string> inputs = given({options.pilot, options.cut_offs_file});
  const bool on_screen = screen_is_free(outputs);
  check_outputs(outputs, inputs);
  const ThreadLimit limit(options.threads);
  const Plan plan = plan_of(options);
  std::vector<OutputFile> files;
  if (!options.json_file.empty())
    files.push_back({options.json_file, plan_json(plan)});
  if (!options.csv_file.empty())
    files.push_back({options.csv_file, plan_csv(plan)});
  if (!options.report_file.empty())
    files.push_back({options.report_file, plan_report(plan)});
  write_files(files, inputs);
  if (on_screen)
    show(plan_text(plan, options.verbose ? Verbosity::full : Verbosity::brief));
}

void add_flock_options(CLI::App& command, PlanOptions& options) {
  command
      .add_option("--host", options.host,
                  fmt::format("{} (default: the pilot's, or {})", hosts_to_choose(), usual_host))
      ->check(hosts());
  command.add_option("--worm", options.worm, "Worm, for the cut-offs: strongyles, ascarids, ...");
  command
      .add_option("--class", options.classes,
                  "Drug classes to test, joined by commas, each in a group of its own: BZ, LV, ML, "
                  "AD, SI, PYR")
      ->check(drug_classes())
      ->delimiter(',');
  command.add_option("--epg", options.mean_epg, "Mean EPG expected before treatment")
      ->check(within(PlannedFlock::means_epg));
  command
      .add_option("--pilot", options.pilot,
                  "In place of --epg: a table of counts (eggs_before), for mean and k, and for "
                  "host, worm and class where it names them")
      ->type_name(file_value);
  add_sheet_option(command, options.sheet);
  command
      .add_option("--k", options.k,
                  "Aggregation parameter: the smaller, the more uneven (default: the pilot's, or "
                  "0.7)")
      ->check(within(CountModel::k_range));
  command
      .add_option("--within-cv", options.within_cv,
                  fmt::format("Variation between two samples of one animal, {}",
                              in_words(CountModel::within_cv_range)))
      ->check(within(CountModel::within_cv_range))
      ->capture_default_str();
  command
      .add_option("--season-change", options.season_change,
                  fmt::format("What untreated counts are multiplied by between the samples, {}",
                              in_words(CountModel::season_changes)))
      ->check(within(CountModel::season_changes))
      ->capture_default_str();
  command.add_option("--available", options.animals, "Animals there are, for all groups together")
      ->check(whole_number(PlannedFlock::most_animals, 1));
}

void add_choice_options(CLI::App& command, PlanOptions& options) {
  command
      .add_option("--animals", options.sizes,
                  fmt::format("Group sizes to choose from (default: {})",
                              fmt::join(PlanChoices::usual_sizes, ",")))
      ->delimiter(',')
      ->check(whole_number(PlanChoices::most_in_group, PlanChoices::least_in_group));
  command
      .add_option("--factor", options.counting,
                  "Ways of counting to choose from, joined by commas: EPG per egg seen, and what a "
                  "sample costs and takes at the bench, as FACTOR:COST:MINUTES; the first is that "
                  "of a pilot table "
                  "without factors (default: 50)")
      ->delimiter(',');
  command
      .add_option("--design", options.designs,
                  "Designs to choose from: paired, two-group, controlled (default: paired)")
      ->delimiter(',')
      ->check(CLI::IsMember({"paired", "two-group", "controlled"}));
  command
      .add_option("--efficacy", options.efficacies,
                  fmt::format("True efficacies to show, percent (default: {})",
                              fmt::join(PlanAim::usual_efficacies_percent, ",")))
      ->delimiter(',')
      ->check(CLI::Range(0.0, 100.0));
  command
      .add_option(
          "--power", options.power_percent,
          fmt::format("Right answers wanted, of 100 tests, {}", in_words(PlanAim::powers_percent)))
      ->check(within(PlanAim::powers_percent))
      ->capture_default_str();
}

} // namespace

void add_plan(CLI::App& app, Action& action) {
  auto options = std::make_shared<PlanOptions>();
  CLI::App& command = *app.add_subcommand(
      "plan", "Design a test that can answer: group size, counting method, cost, power");
  add_flock_options(command, *options);
  add_choice_options(command, *options);
  add_criteria_option(command, options->criteria);
  add_cut_offs_option(command, options->cut_offs_file);
  CLI::Option* const trials =
      command.add_option("--trials", options->trials, "Simulated tests of each design, at most")
          ->check(whole_number(AuditSettings::most_trials, 1))
          ->capture_default_str();
  command
      .add_flag("--quick", options->quick,
                fmt::format("A first look: {} simulated tests of each design", quick_trials))
      ->excludes(trials);
  command.add_option("--seed", options->seed, "Seed of the simulated tests")
      ->check(whole_number())
      ->capture_default_str();
  add_threads_option(command, options->threads);
  command.add_option("--json", options->json_file, "Write all as JSON; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--csv", options->csv_file,
                  "Write one row a design and true efficacy as CSV; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--report", options->report_file,
                  "Write a page to print or show, HTML with figures; - is standard output")
      ->type_name(file_value);
  command.add_flag("--verbose", options->verbose,
                   "Also the chance of each class, with its Monte Carlo error");
  command.footer("Example: eggfall plan --host sheep --class BZ,ML --epg 600 --factor 50:1:5");
  command.callback([options, &action] { action = [options] { run_plan(*options); }; });
}

} // namespace eggfall::cli
