#pragma once

#include "simulation/scenario.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// What simulated tests come from, as JSON (docs/data-format.md): the scenario, the true efficacy
/// of each group, and each animal's own truth. `trials` are tests 0, 1, ... of the scenario.
std::string truth_json(const Scenario& scenario, std::uint64_t seed,
                       const std::vector<SimulatedTrial>& trials);

/// Whether a text is what truth_json() gives, by its schema.
bool is_truth_json(std::string_view text);

} // namespace eggfall
