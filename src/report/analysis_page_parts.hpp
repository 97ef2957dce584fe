#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>

namespace eggfall {

/// The part of a report that is for the farmer: a section of its own page or two.
void add_farmer_part(pugi::xml_node body, const TrialAnalysis& trial);

/// The part for the veterinarian. `number` is the trial's in the report, from 1, and keeps ids
/// apart.
void add_evidence_part(pugi::xml_node body, const TrialAnalysis& trial, std::size_t number);

/// How the numbers were made, and the words that the evidence uses.
void add_method_part(pugi::xml_node body, const std::vector<TrialAnalysis>& trials,
                     const AnalysisSettings& settings);

} // namespace eggfall
