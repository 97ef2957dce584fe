#pragma once

#include "teach/students/student_pack.hpp"

#include <string>

namespace eggfall {

/// The worked arithmetic of every worksheet, for whoever teaches.
std::string answers_page(const StudentPack& pack);

} // namespace eggfall
