#pragma once

#include "base/cell_reference.hpp"
#include "eggfall/base/source.hpp"
#include "formats/table.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace eggfall {

/// A number that a workbook stores, as a person would type it: in its shortest form at 15 digits. A
/// spreadsheet shows no more either, and stores 0.1 + 0.2 as 0.30000000000000004.
std::string typed_number(double value);

/// "2031-03-03" of a date or a date and time as ISO 8601 writes them; what is neither as it is.
std::string day_of(const std::string& value);

/// Puts the cells of one sheet into its rows, and refuses what no table holds.
class SheetCells {
public:
  /// `source` must outlive this.
  explicit SheetCells(const Source& source) : source_(source) {}

  /// @param place column 0: the row alone is looked at.
  /// @throws InputError if it lies beyond last_cell.
  void check_place(const CellReference& place) const;

  /// Puts a cell, its text normalised(), into `row`; an empty one leaves no trace.
  /// @throws InputError if its text is too long or no UTF-8, if it lies beyond last_cell, or if the
  ///   cells so far have more than 64 MiB of text.
  void put(TableRow& row, const CellReference& place, std::string_view text);

  /// The same of a cell without a value, of which `text` is what is seen.
  void put_unreadable(TableRow& row, const CellReference& place, std::string_view text,
                      std::string found, std::string expected);

  /// The same for a cell that shows an error, such as "#N/A".
  void put_error(TableRow& row, const CellReference& place, const std::string& error);

  /// The same for a formula that was never worked out.
  void put_formula_without_result(TableRow& row, const CellReference& place);

  /// Puts the last cell of `row` once more, at a place behind it in the same row.
  /// @throws InputError as put().
  void put_last_again(TableRow& row, const CellReference& place);

  /// `row` once more, at another line.
  /// @throws InputError as put().
  TableRow again(const TableRow& row, std::size_t line);

  /// @param place column 0: the whole row.
  /// @throws InputError
  [[noreturn]] void refuse(const CellReference& place, std::string found,
                           std::string expected) const;

private:
  void count_bytes(const CellReference& place, std::size_t bytes);

  const Source& source_;
  std::size_t bytes_ = 0; ///< Of all cells so far.
};

} // namespace eggfall
