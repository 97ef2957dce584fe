#pragma once

#include "eggfall/trial_analysis.hpp"

#include <string>

namespace eggfall {

/// What to do next after the verdict shown first, in plain words. It supports, and
/// does not replace, a veterinarian registered where the animals are.
std::string next_step(const GroupAnalysis& analysis);

} // namespace eggfall
