#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The results as RFC 4180 text with a header: one row a group and interval method,
/// or one row for a group without intervals. Columns are listed in
/// docs/data-format.md. A missing value is an empty cell.
std::string analysis_csv(const std::vector<TrialAnalysis>& trials);

} // namespace eggfall
