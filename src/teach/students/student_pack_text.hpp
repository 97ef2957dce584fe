#pragma once

#include "teach/students/student_pack.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The first page of a class pack: what to print, for whom, how long it takes, and the cautions.
std::string start_page(const StudentPack& pack);

/// The same in short, and how many of the class's intervals hold the truth; for a terminal 80
/// columns wide.
std::string student_pack_text(const StudentPack& pack, const std::string& folder);

/// What the folder of a pack has at its top: pages, the truth, the folder of tables.
std::vector<std::string> pack_entries();

} // namespace eggfall
