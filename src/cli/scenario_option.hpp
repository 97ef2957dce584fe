#pragma once

#include "simulation/scenario.hpp"

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace eggfall::cli {

struct ScenarioOption {
  std::string lesson = "class"; ///< A built-in scenario.
  std::string file;             ///< Or the user's own, TOML.
};

void add_scenario_option(CLI::App& command, ScenarioOption& option);

/// @throws InputError as read_scenario() and built_in_scenario().
Scenario chosen_scenario(const ScenarioOption& option);

/// The files that it reads.
std::vector<std::string> inputs_of(const ScenarioOption& option);

} // namespace eggfall::cli
