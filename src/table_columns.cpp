#include "table_columns.hpp"

#include "eggfall/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <system_error>
#include <utility>

namespace eggfall {
namespace {

/// "eggs before", "Eggs_Before" and "EGGS-BEFORE" are the same header.
std::string header_key(std::string_view text) {
  std::string key = lower_case(text);
  std::ranges::replace_if(
      key, [](char c) { return c == ' ' || c == '-'; }, '_');
  return key;
}

} // namespace

HeaderCells::HeaderCells(const TableRow& row, const std::string& source, Problems& problems)
    : row_(row), source_(source), problems_(problems), claimed_(row.cells.size(), false) {
  for (const std::string& cell : row.cells)
    keys_.push_back(header_key(cell));
}

Column HeaderCells::column(std::string_view name) {
  Column column{std::string(name), {}};
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    if (keys_[i] != name)
      continue;
    claimed_[i] = true;
    if (!column)
      column.index = i;
    else
      problem(
          {column.name, i},
          fmt::format("a second column of this name (the first is column {})", *column.index + 1),
          "one");
  }
  return column;
}

Column HeaderCells::needed(std::string_view name, std::string_view or_else) {
  Column found = column(name);
  if (!found)
    missing(name, or_else);
  return found;
}

void HeaderCells::missing(std::string_view name, std::string_view or_else) {
  constexpr std::size_t near = 3;
  std::string seen;
  for (const std::string& cell : row_.cells)
    seen += (seen.empty() ? "" : ", ") + in_quotes(cell);
  if (seen.size() > 200)
    seen = fmt::format("{} other columns", row_.cells.size());
  std::string wanted = fmt::format("a column {}", name);
  if (!or_else.empty())
    wanted += fmt::format(" (or {})", or_else);
  for (std::size_t i = 0; i < keys_.size(); ++i)
    if (!claimed_[i] && edit_distance(keys_[i], name) < near) {
      wanted += fmt::format(" (is {} meant?)", in_quotes(row_.cells[i]));
      break;
    }
  problem({}, "the columns " + seen, wanted);
}

void HeaderCells::problem(const Column& column, std::string found, std::string expected) {
  problems_.add({source_, row_.line, column ? *column.index + 1 : 0, column.name, std::move(found),
                 std::move(expected)});
}

std::optional<std::string> HeaderCells::note() const {
  std::string list;
  std::size_t count = 0;
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    if (claimed_[i])
      continue;
    ++count;
    list += (list.empty() ? "" : ", ") +
            in_quotes(keys_[i].empty() ? fmt::format("number {}, without a header", i + 1)
                                       : row_.cells[i]);
  }
  if (count == 0)
    return std::nullopt;
  return fmt::format("{}: not used: column{} {}", source_, count > 1 ? "s" : "", list);
}

Problem RowCells::told(const Column& column, std::string found, std::string expected) const {
  return {source_,     row_.line,        column ? *column.index + 1 : 0,
          column.name, std::move(found), std::move(expected)};
}

void RowCells::problem(const Column& column, std::string found, std::string expected) const {
  problems_.add(told(column, std::move(found), std::move(expected)));
}

void RowCells::problem_once(const Column& column, std::string found, std::string expected) const {
  problems_.add_once(column.name, told(column, std::move(found), std::move(expected)));
}

std::string RowCells::needed(const Column& column) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    problem(column, "nothing", "a name");
  return std::string(cell);
}

std::optional<double> RowCells::number(const Column& column, double largest,
                                       std::string_view what) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    return std::nullopt;
  const auto value = parse_number(cell);
  if (value && *value > 0 && *value <= largest)
    return value;
  problem(column, in_quotes(cell), fmt::format("{} above 0 and at most {}", what, largest));
  return std::nullopt;
}

std::optional<std::chrono::year_month_day> RowCells::date(const Column& column) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    return std::nullopt;
  int year = 0;
  unsigned month = 0;
  unsigned day = 0;
  const auto digits = [&](std::size_t from, std::size_t size, auto& value) {
    const char* const first = cell.data() + from;
    const auto [end, error] = std::from_chars(first, first + size, value);
    return error == std::errc{} && end == first + size;
  };
  constexpr std::string_view pattern = "YYYY-MM-DD";
  if (cell.size() == pattern.size() && cell[4] == '-' && cell[7] == '-' && digits(0, 4, year) &&
      digits(5, 2, month) && digits(8, 2, day)) {
    const std::chrono::year_month_day value{std::chrono::year(year), std::chrono::month(month),
                                            std::chrono::day(day)};
    if (value.ok() && year >= 1900)
      return value;
  }
  problem(column, in_quotes(cell), "a date written YYYY-MM-DD, such as 2031-04-27");
  return std::nullopt;
}

} // namespace eggfall
