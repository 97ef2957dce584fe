#include "formats/sheet_cells.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/table_limits.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t largest_sheet = std::size_t{64} << 20U; ///< Bytes of text in its cells.

} // namespace

std::string typed_number(double value) {
  constexpr double whole_below = 1e15;
  if (std::abs(value) < whole_below && value == std::floor(value))
    return fmt::format("{}", static_cast<long long>(value));
  return fmt::format("{:.15g}", value);
}

std::string day_of(const std::string& value) {
  const std::string day = value.substr(0, value.find('T'));
  return parse_date(day) ? day : value;
}

void SheetCells::check_place(const CellReference& place) const {
  if (place.row > last_cell.row)
    refuse({place.row, 0}, fmt::format("a row {}", place.row),
           fmt::format("rows from 1 to {}", last_cell.row));
  if (place.column > last_cell.column)
    refuse(place, fmt::format("a column {}", place.column),
           fmt::format("columns from 1 to {}", last_cell.column));
}

void SheetCells::put(TableRow& row, const CellReference& place, std::string_view text) {
  check_place(place);
  if (text.size() > longest_cell)
    refuse(place, fmt::format("a cell of more than {} bytes", longest_cell), "a shorter one");
  if (first_invalid_utf8(text))
    refuse(place, "a text that is not UTF-8", "a workbook that is not damaged");
  std::string cell = normalised(text);
  if (cell.empty())
    return;
  count_bytes(place, cell.size());
  if (row.cells.size() < place.column)
    row.cells.resize(place.column);
  row.cells[place.column - 1] = std::move(cell);
}

/// One text may stand in all of a small workbook's cells.
void SheetCells::count_bytes(const CellReference& place, std::size_t bytes) {
  bytes_ += bytes;
  if (bytes_ > largest_sheet)
    refuse(place, fmt::format("more than {} MiB of text in the cells so far", largest_sheet >> 20U),
           "a smaller sheet");
}

void SheetCells::put_unreadable(TableRow& row, const CellReference& place, std::string_view text,
                                std::string found, std::string expected) {
  put(row, place, text);
  row.unreadable.push_back({place.column - 1, std::move(found), std::move(expected)});
}

void SheetCells::put_error(TableRow& row, const CellReference& place, const std::string& error) {
  put_unreadable(row, place, error.empty() ? "error" : error, "the error " + error,
                 "a value, or an empty cell");
}

void SheetCells::put_formula_without_result(TableRow& row, const CellReference& place) {
  put_unreadable(row, place, "formula", "a formula without a result",
                 "its result (open the workbook in a spreadsheet and save it again)");
}

void SheetCells::put_last_again(TableRow& row, const CellReference& place) {
  const std::size_t last = row.cells.size() - 1;
  check_place(place);
  count_bytes(place, row.cells[last].size());
  row.cells.resize(place.column);
  row.cells[place.column - 1] = row.cells[last];
  if (!row.unreadable.empty() && row.unreadable.back().column == last) {
    UnreadableCell copy = row.unreadable.back();
    copy.column = place.column - 1;
    row.unreadable.push_back(std::move(copy));
  }
}

TableRow SheetCells::again(const TableRow& row, std::size_t line) {
  check_place({line, 0});
  for (const std::string& cell : row.cells)
    count_bytes({line, 0}, cell.size());
  TableRow copy = row;
  copy.line = line;
  return copy;
}

void SheetCells::refuse(const CellReference& place, std::string found, std::string expected) const {
  throw InputError(
      {Problem{source_, place.row, place.column, {}, std::move(found), std::move(expected)}});
}

} // namespace eggfall
