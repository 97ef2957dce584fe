#pragma once

#include "simulation/scenario.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {

/// A scenario for a screen of 80 columns, without its truth: farm, groups, animals, and the
/// question to put to those who see the counts.
std::string scenario_text(const Scenario& scenario, std::size_t trials);

/// Names and lessons, for whoever teaches.
std::string scenario_list(const std::vector<Scenario>& scenarios);

} // namespace eggfall
