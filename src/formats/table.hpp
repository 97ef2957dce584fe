#pragma once

#include "eggfall/base/source.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A cell of a sheet that has no value, such as one that shows `#N/A`.
struct UnreadableCell {
  std::size_t column = 0; ///< Place in its row, from 0.
  std::string found;
  std::string expected;
};

/// A row of cells and the 1-based line of the text on which it starts, or its number in a sheet.
struct TableRow {
  std::size_t line = 0;
  std::vector<std::string> cells;
  std::vector<UnreadableCell> unreadable; ///< Their texts in `cells` say nothing.
  /// Columns, from 1, that the cells stood in where the row was put together from others; 0: none.
  /// Empty: each stands where it is.
  std::vector<std::size_t> places = {};

  std::size_t place(std::size_t cell) const { return places.empty() ? cell + 1 : places[cell]; }
};

/// A text or a sheet as rows of cells; blank lines are left out.
struct Table {
  Source source; ///< With the sheet's name.
  TableRow header;
  std::vector<TableRow> rows;
};

/// Reads a table, of which `row_is` says what a row is (an "animal"). `source` names it in
/// messages.
///
/// A text as in RFC 4180: cells separated by comma, semicolon or tab (whichever the header line
/// holds most of), double quotes allowed, any line ending, UTF-8 with or without a byte-order mark,
/// after a first line such as "sep=;" or none.
///
/// Or an .xlsx or .ods workbook, known by its first bytes: the sheet that `source` names, or else
/// the first; the first row that is not empty is the header. A cell is read as its value, whatever
/// its number format shows, but dates become YYYY-MM-DD.
///
/// @throws InputError if the table is empty, larger than 64 MiB, has only a header or a header
///   of one column, has more than 1,000,000 rows, more than 20,000,000 cells (empty ones included)
///   or a cell of more than 1,000 bytes, or a row whose number of cells differs from the header's
///   (trailing empty cells aside); if a text is not UTF-8, holds a NUL byte or leaves a quote open
///   (at its end, or for a megabyte); if a workbook is damaged, encrypted, of another kind, has no
///   such sheet, or a part of more than 256 MiB.
Table read_table(std::string_view bytes, const Source& source, std::string_view row_is);

} // namespace eggfall
