#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/report/analysis_page.hpp"

#include <pugixml.hpp>

#include <cstddef>

namespace eggfall {

/// The part for the veterinarian, and its appendix. `number` is the trial's in the report, from 1,
/// and keeps ids apart.
void add_evidence_part(pugi::xml_node body, const TrialAnalysis& trial,
                       const ReportHeading& heading, std::size_t number);

} // namespace eggfall
