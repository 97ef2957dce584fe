#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <pugixml.hpp>

#include <vector>

namespace eggfall {

/// How the numbers were made, and the words that the evidence uses.
void add_method_part(pugi::xml_node body, const std::vector<TrialAnalysis>& trials,
                     const AnalysisSettings& settings);

} // namespace eggfall
