#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "formats/text_document.hpp"

#include <vector>

namespace eggfall {

/// A letter to the farmer for each trial, to be changed and signed by the veterinarian: the first
/// part of the report (farmer_words) on one page of A4 for up to four drenches, without pictures.
/// Above it is room for a letterhead; date and signature are left to be written, and so are those
/// it goes to and comes from where the heading names nobody. Where a bar or a reason for care
/// speaks against a good result, or no result is to be had, it comes before any number.
TextDocument farmer_letters(const std::vector<TrialAnalysis>& trials,
                            const ReportHeading& heading = {});

} // namespace eggfall
