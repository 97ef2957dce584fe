#include "trial/header_cells.hpp"

#include "base/cell_reference.hpp"
#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

std::string words_joined(std::string_view text) {
  std::string key = lower_case(trimmed(text));
  std::ranges::replace_if(
      key, [](char c) { return c == ' ' || c == '-'; }, '_');
  return key;
}

/// The key of what it may be one of several of: without "_2" or ":nematodirus".
std::string_view stem(std::string_view key) {
  key = key.substr(0, key.find(':'));
  const auto last = key.find_last_not_of("0123456789");
  const bool numbered = last != std::string_view::npos && last + 1 < key.size() && key[last] == '_';
  return numbered ? key.substr(0, last) : key;
}

} // namespace

std::string header_key(std::string_view text) {
  while (text.ends_with(':') || text.ends_with(' '))
    text.remove_suffix(1);
  const auto colon = text.find(':');
  if (colon == std::string_view::npos)
    return words_joined(text);
  return words_joined(text.substr(0, colon)) + ':' + lower_case(trimmed(text.substr(colon + 1)));
}

std::optional<double> parse_epg(std::string_view cell) {
  const auto point = cell.find('.');
  const bool thousands =
      point != std::string_view::npos && cell.size() == point + 4 && cell[0] != '0';
  const auto value = thousands ? std::nullopt : parse_number(cell);
  return value && *value >= 0 ? value : std::nullopt;
}

HeaderCells::HeaderCells(const TableRow& row, const Source& source, Problems& problems)
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
      problem({column.name, i},
              fmt::format("a second column of this name (the first is {})", place(column)), "one");
  }
  asked_for_.push_back(column);
  return column;
}

std::vector<NamesakeColumn>
HeaderCells::columns_starting(std::string_view start,
                              const std::function<bool(std::string_view)>& fits) {
  std::vector<NamesakeColumn> found;
  starts_asked_for_.emplace_back(start);
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    if (claimed_[i] || !keys_[i].starts_with(start))
      continue;
    const std::string rest = keys_[i].substr(start.size());
    if (!fits(rest))
      continue;
    claimed_[i] = true;
    found.push_back({{keys_[i], i}, rest});
  }
  return found;
}

std::vector<NamesakeColumn> HeaderCells::unclaimed_starting(std::string_view start) {
  std::vector<NamesakeColumn> found;
  starts_asked_for_.emplace_back(start);
  for (std::size_t i = 0; i < keys_.size(); ++i)
    if (!claimed_[i] && keys_[i].starts_with(start))
      found.push_back({{keys_[i], i}, keys_[i].substr(start.size())});
  return found;
}

Column HeaderCells::needed(std::string_view name, std::string_view or_else) {
  Column found = column(name);
  if (!found)
    missing(name, or_else);
  return found;
}

void HeaderCells::refuse_misspelt(const Column& column) {
  for (std::size_t i = 0; i < keys_.size() && !column; ++i)
    if (!claimed_[i] && edit_distance(keys_[i], column.name) == 1) {
      problem({column.name, i}, in_quotes(row_.cells[i]),
              fmt::format("{}, if that is meant, or a name less like it", column.name));
      return;
    }
}

void HeaderCells::refuse_word(const Column& column, std::string_view word) {
  for (std::size_t i = 0; i < keys_.size() && !column; ++i) {
    const std::string key = '_' + keys_[i] + '_';
    if (claimed_[i] || key.find(fmt::format("_{}_", word)) == std::string::npos)
      continue;
    problem({column.name, i}, in_quotes(row_.cells[i]),
            fmt::format("{}, if that is meant, or a name without the word {}", column.name, word));
    return;
  }
}

void HeaderCells::missing(std::string_view name, std::string_view or_else) {
  constexpr std::size_t near = 3;
  std::string seen = quoted_list(row_.cells, row_.cells.size());
  if (seen.size() > 200)
    seen = fmt::format("{} other columns", row_.cells.size());
  std::string wanted = fmt::format("a column {}", name);
  if (!or_else.empty())
    wanted += fmt::format(" (or {})", or_else);
  for (std::size_t i = 0; i < keys_.size(); ++i)
    if (!claimed_[i] && edit_distance(stem(keys_[i]), name) < near) {
      wanted += fmt::format(" (is {} meant?)", in_quotes(row_.cells[i]));
      break;
    }
  problem({}, "the columns " + seen, wanted);
}

void HeaderCells::problem(const Column& column, std::string found, std::string expected) {
  problems_.add({source_, row_.line, column ? *column.index + 1 : 0, column.name, std::move(found),
                 std::move(expected)});
}

/// Only for a likeness that can hardly be by chance.
std::string HeaderCells::meant_by(std::string_view key) const {
  constexpr std::size_t shortest = 4;
  constexpr std::size_t short_word = 4; // "ear" is no year: few mistype the first letter
  struct Guess {
    std::size_t distance;
    std::string name; ///< Empty: like a column that is there already.
  };
  std::optional<Guess> best;
  const auto consider = [&](std::string_view seen, std::string_view known, std::string name) {
    const std::size_t distance = edit_distance(seen, known);
    const bool begins_alike = known.size() > short_word || seen.starts_with(known.substr(0, 1));
    if (distance > 0 && known.size() >= shortest && begins_alike && 3 * distance < known.size() &&
        (!best || distance < best->distance))
      best = {distance, std::move(name)};
  };
  for (const Column& column : asked_for_)
    consider(key, column.name, column ? std::string() : column.name);
  const std::size_t size = stem(key).size();
  for (const std::string& start : starts_asked_for_)
    if (size < key.size() && key[size] == start.back())
      consider(key.substr(0, size + 1), start, start + std::string(key.substr(size + 1)));
  return best && !best->name.empty() ? fmt::format(" (is {} meant?)", best->name) : "";
}

/// "number 3, without a header"
std::string HeaderCells::without_header(std::size_t column) const {
  return fmt::format("{}, without a header", source_.is_sheet()
                                                 ? column_letters(column + 1)
                                                 : fmt::format("number {}", column + 1));
}

std::optional<std::string> HeaderCells::note() const {
  std::string list;
  std::size_t count = 0;
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    if (claimed_[i])
      continue;
    ++count;
    list += (list.empty() ? "" : ", ") +
            in_quotes(keys_[i].empty() ? without_header(i) : row_.cells[i]) + meant_by(keys_[i]);
  }
  if (count == 0)
    return std::nullopt;
  return fmt::format("{}: not used: column{} {}", source_.shown(), count > 1 ? "s" : "", list);
}

RowCells HeaderCells::cells_of(const TableRow& row) const {
  for (const UnreadableCell& cell : row.unreadable)
    if (cell.column < claimed_.size() && claimed_[cell.column])
      problems_.add(
          {source_, row.line, cell.column + 1, keys_[cell.column], cell.found, cell.expected});
  return {row, source_, problems_};
}

bool RowCells::is_unreadable(const Column& column) const {
  return column && std::ranges::find(row_.unreadable, *column.index, &UnreadableCell::column) !=
                       row_.unreadable.end();
}

Problem RowCells::told(const Column& column, std::string found, Wording expected) const {
  return {source_,     row_.line,        column ? row_.place(*column.index) : 0,
          column.name, std::move(found), std::move(expected)};
}

void RowCells::problem(const Column& column, std::string found, Wording expected) const {
  if (!is_unreadable(column))
    problems_.add(told(column, std::move(found), std::move(expected)));
}

void RowCells::problem_once(const std::string& what, const Column& column, std::string found,
                            Wording expected) const {
  if (!is_unreadable(column))
    problems_.add_once(what, told(column, std::move(found), std::move(expected)));
}

std::string RowCells::needed(const Column& column) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    problem(column, "nothing", "a name");
  return std::string(cell);
}

std::optional<double> RowCells::number(const Column& column, const ValueRange& possible,
                                       std::string_view what) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    return std::nullopt;
  const auto value = parse_number(cell);
  if (value && possible.hold(*value))
    return value;
  problem(column, in_quotes(cell),
          fmt::format("{} from {} to {}", what, possible.least, possible.most));
  return std::nullopt;
}

std::optional<std::uint32_t> RowCells::whole_number(const Column& column, std::uint32_t smallest,
                                                    std::uint32_t largest,
                                                    std::string_view what) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    return std::nullopt;
  const auto value = parse_whole_number(cell);
  if (value && *value >= smallest && *value <= largest)
    return static_cast<std::uint32_t>(*value);
  problem(column, in_quotes(cell), fmt::format("{} from {} to {}", what, smallest, largest));
  return std::nullopt;
}

std::optional<std::chrono::year_month_day> RowCells::date(const Column& column) const {
  const std::string_view cell = text(column);
  if (cell.empty())
    return std::nullopt;
  if (const auto date = parse_date(cell))
    return date;
  problem(column, in_quotes(cell), "a date written YYYY-MM-DD, such as 2031-04-27");
  return std::nullopt;
}

} // namespace eggfall
