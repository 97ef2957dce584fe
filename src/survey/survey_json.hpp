#pragma once

#include "eggfall/survey/survey.hpp"
#include "survey/region_picture.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// A survey as JSON, schema "eggfall.survey/4" (docs/data-format.md).
/// The pictures are for readers alone: they follow from the rest, and are not read back.
std::string survey_json(const Survey& survey, const std::vector<RegionPicture>& pictures = {});

/// What survey_json() wrote, whole or part; `source` names it in messages.
/// @throws InputError for anything else.
Survey read_survey_json(std::string_view json, const std::string& source);

} // namespace eggfall
