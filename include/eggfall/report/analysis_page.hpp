#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// What belongs to a trial and stands in no table of counts; each is a line to write on where it is
/// empty.
struct ReportHeading {
  std::string farm;
  std::string owner;
  std::string veterinarian;
  std::string laboratory;
  std::string counting_method;
};

/// The result as one HTML page without scripts, for screen and paper: for every trial a part for
/// the farmer (a drench a picture, what it means, and what to do next), and then the evidence for
/// the veterinarian. Numbers are those of analysis_summary() and analysis_json().
std::string analysis_report(const std::vector<TrialAnalysis>& trials,
                            const AnalysisSettings& settings, const ReportHeading& heading = {});

} // namespace eggfall
