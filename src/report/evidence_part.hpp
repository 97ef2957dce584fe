#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <pugixml.hpp>

#include <cstddef>

namespace eggfall {

/// The part for the veterinarian. `number` is the trial's in the report, from 1, and keeps ids
/// apart.
void add_evidence_part(pugi::xml_node body, const TrialAnalysis& trial, std::size_t number);

} // namespace eggfall
