#pragma once

#include "teach/exercises/design_exercises.hpp"
#include "teach/students/student_pack.hpp"

#include <string>

namespace eggfall {

/// Six exercises to print, a page each: counts, what to work out, room to write.
std::string exercises_page(const StudentPack& pack, const DesignExercises& exercises);

} // namespace eggfall
