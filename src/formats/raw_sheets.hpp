#pragma once

#include "eggfall/base/source.hpp"
#include "formats/table.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A sheet, or a text, as rows of cells as they stand: which of them is the header, if any is, is
/// still to be found.
struct RawSheet {
  Source source;              ///< With the sheet's name.
  std::vector<TableRow> rows; ///< Without blank ones, and without empty cells at their ends.
};

/// All that one file holds.
struct RawBook {
  std::vector<RawSheet> sheets; ///< In their order; a text is one.
  std::string encoding;         ///< Of a text, as DecodedText has it; empty: a workbook.
};

/// Reads the rows of a file in whatever encoding or workbook it comes; `source` names it in
/// messages, and the one sheet wanted of a workbook (empty: all of them).
///
/// A workbook is .xlsx or .ods (Spreadsheet). A text is decoded(); its cells are separated by what
/// a first line such as "sep=;" names, which is passed over, or else by separator_of(); double
/// quotes may stand around a cell, and one in the middle of an unquoted cell is a character like
/// others. Cells are normalised().
///
/// @throws InputError if there is nothing in it; if it is larger than 64 MiB, has more than
///   1,000,000 rows or 20,000,000 cells (in all sheets), more than 1,000 columns in a row, or a
///   cell of more than 1,000 bytes; if a text has a quote that is never closed, or one that is
///   closed before the end of its cell; if it is HTML or XML, an old .xls workbook, or what
///   decoded() or Spreadsheet refuses; if there is no such sheet, or it is a text of which one is
///   wanted.
RawBook read_raw(std::string_view bytes, const Source& source);

} // namespace eggfall
