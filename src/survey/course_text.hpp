#pragma once

#include "eggfall/survey/farm_course.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// How many farms' drenches hold, slip, are lost or cannot be told, and each that slips or is lost,
/// as plain text of at most 80 columns; empty without a course.
std::string courses_text(const std::vector<FarmCourse>& courses);

/// All courses as CSV, a line a test (docs/data-format.md, "A farm's years").
std::string courses_csv(const std::vector<FarmCourse>& courses);

} // namespace eggfall
