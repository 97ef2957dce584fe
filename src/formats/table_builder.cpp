#include "formats/table_builder.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {

void TableBuilder::refuse(std::size_t line, std::string found, std::string expected,
                          std::size_t column) const {
  problems_.give_up({source_, line, column, {}, std::move(found), std::move(expected)});
}

/// "one line an animal"
std::string TableBuilder::one_each() const {
  const bool vowel = std::string_view("aeiou").find(row_is_.front()) != std::string_view::npos;
  return fmt::format("one {} {} {}", source_.is_sheet() ? "row" : "line", vowel ? "an" : "a",
                     row_is_);
}

void TableBuilder::refuse_nothing() const {
  refuse(0, "nothing",
         fmt::format("a header {} and {}", source_.is_sheet() ? "row" : "line", one_each()));
}

void TableBuilder::add(TableRow& row, const Take& take) {
  const auto empty = [](TableRow& each) { // keeps its memory unless the cells were taken away
    each.cells.clear();
    each.unreadable.clear();
  };
  if (std::ranges::all_of(row.cells, &std::string::empty)) {
    empty(row);
    return;
  }
  if (header_.cells.empty()) {
    header_ = std::exchange(row, TableRow{});
    return;
  }
  if (!header_checked_)
    check_header();
  if (has_width_of_header(row))
    take(std::move(row));
  empty(row);
}

void TableBuilder::finish() {
  if (source_.is_sheet() && header_.cells.empty())
    refuse_nothing();
  if (!header_checked_)
    refuse(0, source_.is_sheet() ? "only a header row" : "only a header line",
           one_each() + " below it");
}

void TableBuilder::check_header() {
  header_checked_ = true;
  if (header_.cells.size() > most_columns)
    refuse(header_.line, fmt::format("{} columns", header_.cells.size()),
           fmt::format("at most {}", most_columns));
  while (header_.cells.back().empty())
    header_.cells.pop_back();
  if (std::ranges::count_if(header_.cells, [](const auto& cell) { return !cell.empty(); }) > 1)
    return;
  if (source_.is_sheet())
    refuse(header_.line, "a single name, " + in_quotes(header_.cells.back()),
           "the names of the columns, each in a cell of its own, in the first row that is not "
           "empty");
  if (header_.cells.size() == 1)
    refuse(header_.line, "a header with one column, " + in_quotes(header_.cells[0]),
           "the names of the columns, separated by commas, semicolons or tabs, in the first line");
}

bool TableBuilder::has_width_of_header(TableRow& row) {
  const std::size_t columns = header_.cells.size();
  while (row.cells.size() > columns && row.cells.back().empty())
    row.cells.pop_back();
  if (source_.is_sheet() && row.cells.size() <= columns)
    row.cells.resize(columns); // a sheet stores no empty cells
  if (row.cells.size() == columns)
    return true;
  if (source_.is_sheet()) {
    tell_cells_beyond(row);
    return false;
  }
  std::string expected = fmt::format("{}, as in the header", columns);
  if (row.cells.size() > columns)
    expected += " (a decimal comma needs semicolons between cells, or quotes)";
  problems_.add(
      {source_, row.line, 0, {}, fmt::format("{} cells", row.cells.size()), std::move(expected)});
  return false;
}

void TableBuilder::tell_cells_beyond(const TableRow& row) {
  for (std::size_t i = header_.cells.size(); i < row.cells.size(); ++i)
    if (!row.cells[i].empty())
      problems_.add({source_,
                     row.line,
                     i + 1,
                     {},
                     in_quotes(row.cells[i]),
                     "an empty cell, as no column has its name above it"});
}

} // namespace eggfall
