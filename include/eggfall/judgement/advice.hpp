#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>

namespace eggfall {

/// Why a drench that meets the rule of its first verdict should still be used with care, and how,
/// in plain words; empty if nothing speaks against it. Worms known to survive are told by
/// next_step().
std::string reason_for_care(const GroupAnalysis& analysis);

/// What to do next after the verdict shown first, in plain words. It supports, and
/// does not replace, a veterinarian registered where the animals are.
std::string next_step(const GroupAnalysis& analysis);

} // namespace eggfall
