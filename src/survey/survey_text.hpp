#pragma once

#include "eggfall/survey/survey.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "survey/region_picture.hpp"

#include <string>

namespace eggfall {

/// The tallies and shares as plain text of at most 80 columns. A breakdown in which no group gives
/// any of its fields is left out.
std::string survey_text(const Survey& survey, const std::vector<RegionPicture>& pictures = {});

/// The header line of the rows.
std::string survey_csv_header();

/// A group, judged by `criteria`, as a CSV line: a line of a forest plot.
std::string survey_csv_row(const SurveyRow& row, const Criteria& criteria);

} // namespace eggfall
