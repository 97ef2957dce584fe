#pragma once

#include "teach/students/student_pack.hpp"

#include <string>

namespace eggfall {

/// All intervals of the class against the truth: by hand, and by the posterior.
std::string line_up_page(const StudentPack& pack);

} // namespace eggfall
