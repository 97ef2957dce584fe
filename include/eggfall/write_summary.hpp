#pragma once

#include "eggfall/trial_analysis.hpp"

#include <string>

namespace eggfall {

/// How much of a result to tell.
enum class Detail {
  brief, ///< One block a group.
  full,  ///< Also every interval, design, criterion and caveat, and each animal.
};

/// One trial's result as plain text of at most 80 columns, without colour.
std::string analysis_summary(const TrialAnalysis& trial, Detail detail);

/// The cautions of the trade, wrapped to 80 columns.
std::string cautions();

} // namespace eggfall
