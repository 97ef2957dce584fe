#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A row of cells and the 1-based line of the text on which it starts.
struct TableRow {
  std::size_t line = 0;
  std::vector<std::string> cells;
};

/// A delimited text as rows of cells; blank lines are left out.
struct Table {
  char delimiter = ',';
  TableRow header;
  std::vector<TableRow> rows;
};

/// Reads RFC 4180 text: cells separated by comma, semicolon or tab (whichever
/// the header line holds most of), double quotes allowed, any line ending, UTF-8
/// with or without a byte-order mark, after a first line such as "sep=;" or none. `source` names
/// the text in messages, and `row_is` what a row is (an "animal").
///
/// @throws InputError if the text is empty, larger than 64 MiB, not UTF-8, holds
///   a NUL byte, leaves a quote open (at its end, or for a megabyte), has only a header or a header
///   of one column, has more than 1,000,000 rows or a cell of more than 1,000 bytes, or a row whose
///   number of cells differs from the header's (trailing empty cells aside).
Table read_table(std::string_view text, const std::string& source, std::string_view row_is);

} // namespace eggfall
