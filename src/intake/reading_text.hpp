#pragma once

#include "intake/understand.hpp"

#include <string>

namespace eggfall {

/// What tables were taken for, for a screen of 80 columns: all lines, and a summary of each trial's
/// groups (animals, eggs seen, factors) to compare with the tables.
std::string reading_text(const UnderstoodTables& tables, const SettingNames& names = library_names);

} // namespace eggfall
