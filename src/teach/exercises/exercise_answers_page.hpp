#pragma once

#include "teach/exercises/design_exercises.hpp"
#include "teach/students/student_pack.hpp"

#include <string>

namespace eggfall {

/// What each exercise shows: the falls and intervals of its tests, the truth, and what many such
/// tests do.
std::string exercise_answers_page(const StudentPack& pack, const DesignExercises& exercises);

} // namespace eggfall
