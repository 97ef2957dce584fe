#pragma once

#include "formats/table.hpp"
#include "intake/join_sheets.hpp"
#include "intake/reading_log.hpp"

namespace eggfall {

/// Animals whose cells are settled, as a table in the form of a counts table (docs/data-format.md):
/// a column for each thing that an animal has, each row with the places of its cells in the sheet
/// it came from. A kind of worm that is told apart at one time alone cannot be compared: it is left
/// out, and told.
Table counts_rows(const JoinedAnimals& joined, ReadingLog& log);

} // namespace eggfall
