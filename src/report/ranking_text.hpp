#pragma once

#include "eggfall/base/verbosity.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <string>

namespace eggfall {

/// How the drenches of a trial compare with each other, and combinations with their parts, as
/// plain text of at most 80 columns; empty if there is nothing to compare. With Verbosity::full
/// also pair by pair.
std::string ranking_summary(const TrialAnalysis& trial, Verbosity verbosity);

} // namespace eggfall
