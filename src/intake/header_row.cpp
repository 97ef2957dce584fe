#include "intake/header_row.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <algorithm>
#include <map>
#include <string_view>

namespace eggfall {

std::size_t filled_cells(const TableRow& row) {
  return static_cast<std::size_t>(
      std::ranges::count_if(row.cells, [](const std::string& cell) { return !cell.empty(); }));
}

std::vector<ColumnReading> read_heads(const TableRow& row, const std::vector<std::string>& above,
                                      const Layout& layout) {
  std::vector<ColumnReading> columns;
  for (std::size_t i = 0; i < row.cells.size(); ++i)
    columns.push_back(read_head(i, row.cells[i], above.empty() ? "" : above[i], layout));
  return columns;
}

namespace {

/// What a cell that is not empty adds to the score of its row.
struct HeadWorth {
  int score = 0;
  bool understood = false;
  bool is_count = false;
};

HeadWorth worth_of(const std::string& cell, const Layout& layout) {
  const ColumnReading column = read_head(0, cell, "", layout);
  HeadWorth worth;
  worth.understood = column.kind != ColumnReading::Kind::unused;
  worth.is_count = column.kind == ColumnReading::Kind::count;
  if (parse_number(cell))
    worth.score = -1;
  else if (worth.understood)
    worth.score = column.says_count ? 3 : column.label.empty() ? 2 : 1;
  return worth;
}

/// header_score(), `worth` giving that of a cell.
template <typename Worth> int score_of(const TableRow& row, Worth&& worth) {
  int score = 0;
  int understood = 0;
  bool counts = false;
  for (const std::string& cell : row.cells) {
    if (cell.empty())
      continue;
    const HeadWorth& of_cell = worth(cell);
    score += of_cell.score;
    understood += of_cell.understood ? 1 : 0;
    counts = counts || of_cell.is_count;
  }
  if (understood < 2)
    return 0;
  return counts ? score + 1 : score;
}

} // namespace

int header_score(const TableRow& row, const Layout& layout) {
  return score_of(row, [&](const std::string& cell) { return worth_of(cell, layout); });
}

std::optional<std::size_t> find_header(const RawSheet& sheet, const Layout& layout) {
  constexpr std::size_t most_looked_at = 60;
  constexpr int least = 3; // two heads, or one and a count
  // A group, a host, a date stand in row after row, and to look for their words takes long.
  std::map<std::string_view, HeadWorth> known;
  const auto worth = [&](const std::string& cell) -> const HeadWorth& {
    const auto found = known.find(cell);
    return found != known.end() ? found->second
                                : known.emplace(cell, worth_of(cell, layout)).first->second;
  };
  std::optional<std::size_t> best;
  int best_score = least - 1;
  for (std::size_t i = 0; i < std::min(sheet.rows.size(), most_looked_at); ++i)
    if (const int score = score_of(sheet.rows[i], worth); score > best_score) {
      best = i;
      best_score = score;
    }
  return best;
}

std::vector<std::string> spread_heads(const TableRow& above, std::size_t columns,
                                      const std::vector<ColumnReading>& below) {
  std::vector<std::string> spread(columns);
  std::string last;
  for (std::size_t i = 0; i < columns; ++i) {
    if (i < above.cells.size() && !above.cells[i].empty())
      last = above.cells[i];
    // What has one meaning of its own, such as a weight, is not of the group or time above it.
    const bool of_it = below[i].kind == ColumnReading::Kind::count ||
                       below[i].kind == ColumnReading::Kind::unused || below[i].name == "animal" ||
                       below[i].name == "date";
    if (of_it)
      spread[i] = last;
  }
  return spread;
}

bool heads_are_short(const std::vector<ColumnReading>& columns) {
  std::size_t counts = 0;
  bool short_of = false;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].kind != ColumnReading::Kind::count)
      continue;
    ++counts;
    if (!columns[i].time)
      short_of = true;
    for (std::size_t j = 0; j < i; ++j)
      if (columns[j].kind == ColumnReading::Kind::count &&
          look_of(columns[j].head) == look_of(columns[i].head))
        short_of = true;
  }
  return counts > 1 && short_of;
}

} // namespace eggfall
