#pragma once

#include "teach/students/student_pack.hpp"

#include <string>

namespace eggfall {

/// Worksheets to print: a page a student with the counts after treatment and the steps of
/// HandCalculation to fill in, and last an empty line-up to draw all intervals on.
std::string worksheets_page(const StudentPack& pack);

} // namespace eggfall
