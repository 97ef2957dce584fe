#pragma once

#include "formats/raw_sheets.hpp"
#include "intake/column_reading.hpp"
#include "intake/layout.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// Cells that are not empty.
std::size_t filled_cells(const TableRow& row);

/// Each cell as the head of a column.
/// @param above what stands above each, from a second row of heads; empty: nothing.
std::vector<ColumnReading> read_heads(const TableRow& row, const std::vector<std::string>& above,
                                      const Layout& layout);

/// How much a row looks like the header: heads that are understood, above all those of counts and
/// those without a word left over (as titles have), less numbers, which stand in the rows below
/// (but for days, "0" and "14"). A single head is none.
int header_score(const TableRow& row, const Layout& layout);

/// Place of the header among the rows; nothing if no row has two heads that are understood.
std::optional<std::size_t> find_header(const RawSheet& sheet, const Layout& layout);

/// A row of heads above the header, as "White drench" above "pre" and "post": each goes for the
/// columns up to the next.
std::vector<std::string> spread_heads(const TableRow& above, std::size_t columns,
                                      const std::vector<ColumnReading>& below);

/// Whether two columns of counts cannot be told apart, or one has no time.
bool heads_are_short(const std::vector<ColumnReading>& columns);

} // namespace eggfall
