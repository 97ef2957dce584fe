#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <pugixml.hpp>

namespace eggfall {

/// The part of a report that is for the farmer: a section of its own page or two.
void add_farmer_part(pugi::xml_node body, const TrialAnalysis& trial);

} // namespace eggfall
