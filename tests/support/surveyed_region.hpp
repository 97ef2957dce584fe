#pragma once

#include "eggfall/survey/survey.hpp"
#include "eggfall/survey/survey_row.hpp"

#include <cstddef>
#include <vector>

/// A survey of an invented region, and its rows.
struct SurveyedRegion {
  eggfall::Survey survey;
  std::vector<eggfall::SurveyRow> rows;
};

/// So many groups (InventedRegion, three drenches a farm), judged by the first criterion. From the
/// 60th on they are the first ones again, on farms of other names: to judge them takes time, and
/// to show them is what is tested.
SurveyedRegion surveyed_region(std::size_t groups);
