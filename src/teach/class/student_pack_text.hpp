#pragma once

#include "teach/class/student_pack.hpp"

#include <string>

namespace eggfall {

/// The first page of a class pack: what to print, for whom, how long it takes, and the cautions.
std::string start_page(const StudentPack& pack);

/// The same in short, and how many of the class's intervals hold the truth; for a terminal 80
/// columns wide.
std::string class_pack_text(const StudentPack& pack, const std::string& folder);

} // namespace eggfall
