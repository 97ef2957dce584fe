#include "chosen_cut_offs.hpp"
#include "commands.hpp"
#include "files.hpp"
#include "help.hpp"
#include "scenario_option.hpp"

#include "eggfall/class_pack.hpp"
#include "eggfall/class_pages.hpp"
#include "eggfall/truth_json.hpp"
#include "eggfall/write_counts.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <iostream>
#include <memory>
#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

struct TeachOptions {
  ScenarioOption scenario;
  std::size_t students = 30;
  std::uint64_t seed = 1;
  std::string folder;
};

std::vector<OutputFile> class_files(const ClassPack& pack, const std::string& folder) {
  std::vector<OutputFile> files{{folder + "/worksheets.html", worksheets_page(pack)},
                                {folder + "/answers.html", answers_page(pack)},
                                {folder + "/line-up.html", line_up_page(pack)}};
  std::vector<SimulatedTrial> simulated;
  for (std::size_t i = 0; i < pack.sheets.size(); ++i) {
    simulated.push_back(pack.sheets[i].simulated);
    files.push_back({fmt::format("{}/tables/worksheet-{:02}.csv", folder, i + 1),
                     counts_table({simulated.back().trial})});
  }
  files.push_back({folder + "/truth.json", truth_json(pack.scenario, pack.seed, simulated)});
  return files;
}

void run_teach(const TeachOptions& options) {
  const ClassPack pack = class_pack(chosen_scenario(options.scenario), options.students,
                                    options.seed, chosen_cut_offs(""));
  std::vector<OutputFile> files = class_files(pack, options.folder);
  make_directory(options.folder + "/tables");
  write_files(files, inputs_of(options.scenario));
}

} // namespace

void add_teach(CLI::App& app, Action& action) {
  auto options = std::make_shared<TeachOptions>();
  CLI::App& command = *app.add_subcommand(
      "teach", "A class pack: worksheets, answers, a line-up against the truth, exercises");
  command.add_option("--folder", options->folder, "Folder to write into; made if need be")
      ->required();
  add_scenario_option(command, options->scenario);
  command.add_option("--students", options->students, "Worksheets, each a test of its own")
      ->check(whole_number(ClassPack::most_students))
      ->capture_default_str();
  command.add_option("--seed", options->seed, "Seed: another one, another class")
      ->check(whole_number())
      ->capture_default_str();
  command.footer("Example: eggfall teach --folder class-pack --students 30 --seed 1");
  command.callback([options, &action] { action = [options] { run_teach(*options); }; });
}

} // namespace eggfall::cli
