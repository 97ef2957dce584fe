#pragma once

#include "eggfall/survey/survey.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "survey/region_picture.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {

/// Groups that a page shows one by one. Of a survey with more it is given none.
inline constexpr std::size_t most_rows_on_page = 1'000;

/// A survey as one HTML page: what was found, the classes of each breakdown, the falls of the
/// groups, the years of farms, all farms together, and how all was judged, each figure with its
/// table.
/// @param rows those of all groups of the survey, whose counts are not looked at; or none, and the
///   page says that its groups are not shown one by one.
/// @throws CalculationError for a part of a survey, and for rows that are neither.
std::string survey_page(const Survey& survey, const std::vector<SurveyRow>& rows,
                        const std::vector<RegionPicture>& pictures);

} // namespace eggfall
