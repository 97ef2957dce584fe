#pragma once

#include "simulation/scenario.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace eggfall {

/// What simulated tests come from, as JSON (docs/data-format.md): the scenario, the true efficacy
/// of each group, and each animal's own truth. `trials` are tests 0, 1, ... of the scenario.
std::string truth_json(const Scenario& scenario, std::uint64_t seed,
                       const std::vector<SimulatedTrial>& trials);

} // namespace eggfall
