#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The results under the schema "eggfall.analysis/2" (docs/data-format.md), ending in
/// a newline. A missing number is null.
std::string analysis_json(const std::vector<TrialAnalysis>& trials,
                          const AnalysisSettings& settings);

} // namespace eggfall
