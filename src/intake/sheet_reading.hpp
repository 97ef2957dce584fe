#pragma once

#include "base/problems.hpp"
#include "formats/raw_sheets.hpp"
#include "intake/column_reading.hpp"
#include "intake/layout.hpp"
#include "intake/reading_log.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A row with samples in it.
struct SampleRow {
  const TableRow* row = nullptr;
  std::string section; ///< A title above it that names its group; empty: none.
  std::map<std::size_t, std::string> filled = {}; ///< In place of its cells: fill_rows().

  /// Empty beyond the row's last cell.
  std::string_view cell(std::size_t column) const {
    if (!filled.empty())
      if (const auto found = filled.find(column); found != filled.end())
        return found->second;
    return column < row->cells.size() ? std::string_view(row->cells[column]) : std::string_view();
  }
};

/// A row outside the table, its cells in one: "Factor" and "15" beside it are "Factor 15".
struct NoteRow {
  std::size_t line = 0;
  std::string text;
};

/// A sheet as columns with a meaning and rows of samples.
struct SheetReading {
  const RawSheet* sheet = nullptr; ///< Must outlive this.
  std::size_t header_line = 0;
  std::vector<ColumnReading> columns; ///< One for each cell of the header.
  std::vector<SampleRow> rows;
  std::vector<std::string> around; ///< Titles above, and notes among and below the rows.
  std::vector<NoteRow> notes;      ///< The same, row by row.

  const ColumnReading* attribute(std::string_view name) const;
  /// Whether there is such a column, and any row has something in it.
  bool tells(std::string_view attribute) const;
  const ColumnReading* when() const;
  /// Those that may hold counts; what its owner names stands in place of others of its time.
  std::vector<const ColumnReading*> counts() const;
  /// Whether a column holds 1, 2, 3 ..., as a program or a clerk numbers rows.
  bool numbers_rows(const ColumnReading& column) const;
};

/// Finds the header (among the first 60 rows that are not blank, the one with the most heads that
/// are understood) and what each column is; tells rows of samples from titles, notes, sums, and the
/// header written again. A row that names no animal and whose numbers are the sums, or the means,
/// of those above it is such a sum too (rows of a table without names of animals are held for sums
/// alone that four counts or more make up). Nothing if the sheet has no column of counts.
///
/// What a head leaves open, its cells may say: a column of "before" and "after" tells times, and
/// one headed "Treated" may hold dates or roles.
///
/// What people write once for several rows is filled in: fill_rows().
///
/// Rows with more cells than the header, or cut short before a count, are problems in a text.
std::optional<SheetReading> read_sheet_columns(const RawSheet& sheet, const Layout& layout,
                                               Problems& problems, ReadingLog& log);

} // namespace eggfall
