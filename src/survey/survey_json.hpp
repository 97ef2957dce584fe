#pragma once

#include "eggfall/survey/survey.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// A survey as JSON, schema "eggfall.survey/4" (docs/data-format.md).
std::string survey_json(const Survey& survey);

/// What survey_json() wrote, whole or part; `source` names it in messages.
/// @throws InputError for anything else.
Survey read_survey_json(std::string_view json, const std::string& source);

} // namespace eggfall
