#include "cli/scenario_option.hpp"

#include "cli/files.hpp"
#include "cli/values.hpp"

#include "simulation/read_scenario.hpp"

#include <CLI/CLI.hpp>

namespace eggfall::cli {

void add_scenario_option(CLI::App& command, ScenarioOption& option) {
  CLI::Option* const lesson =
      command
          .add_option("--lesson", option.lesson,
                      "A built-in test, named for what it shows (eggfall simulate --list)")
          ->check(lesson_names())
          ->capture_default_str();
  command.add_option("--scenario", option.file, "Or one of your own, TOML (docs/teaching.md)")
      ->type_name(file_value)
      ->excludes(lesson);
}

Scenario chosen_scenario(const ScenarioOption& option) {
  return option.file.empty() ? built_in_scenario(option.lesson)
                             : read_scenario(read_file(option.file), option.file);
}

std::vector<std::string> inputs_of(const ScenarioOption& option) {
  return option.file.empty() ? std::vector<std::string>() : std::vector{option.file};
}

} // namespace eggfall::cli
