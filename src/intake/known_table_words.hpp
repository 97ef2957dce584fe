#pragma once

#include <string>

namespace eggfall {

/// src/data/table_words.toml as it stands, compiled in: the words that people head and fill their
/// tables with.
std::string known_table_words();

} // namespace eggfall
