#include "intake/counts_rows.hpp"

#include "intake/column_reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

struct CountsColumn {
  std::string head;
  std::function<const RawCell*(const RawAnimal&)> cell; ///< Null: it has none.
};

CountsColumn attribute_column(const std::string& name) {
  return {name, [name](const RawAnimal& animal) -> const RawCell* {
            const auto found = animal.attributes.find(name);
            return found == animal.attributes.end() ? nullptr : &found->second;
          }};
}

/// "eggs_before_2" or "eggs_after:nematodirus": settled counts are eggs seen, all of them.
std::string count_head(const CountKey& key) {
  std::string head = fmt::format("{}_{}", to_string(CountUnit::eggs), to_string(key.time));
  if (key.repeat > 0)
    head += fmt::format("_{}", key.repeat);
  if (!key.worm.empty())
    head += ':' + key.worm;
  return head;
}

bool is_of_both_times(const std::string& worm, const std::set<CountKey>& keys) {
  return std::ranges::all_of(all_occasions, [&](const Occasion occasion) {
    return std::ranges::any_of(keys, [&](const CountKey& key) {
      return key.worm == worm && key.time.occasion == occasion;
    });
  });
}

std::vector<CountsColumn> columns_of(const JoinedAnimals& joined, ReadingLog& log) {
  std::set<std::string> names;
  std::set<CountKey> keys;
  for (const RawAnimal& animal : joined.animals) {
    for (const auto& [name, cell] : animal.attributes)
      names.insert(name);
    for (const auto& [key, count] : animal.counts)
      keys.insert(key);
  }
  std::vector<CountsColumn> columns;
  for (const std::string& name : names)
    columns.push_back(attribute_column(name));
  std::set<CountKey> alone;
  for (const CountKey& key : keys) {
    if (!key.worm.empty() && !is_of_both_times(key.worm, keys)) {
      alone.insert(key);
      continue;
    }
    columns.push_back({count_head(key), [key](const RawAnimal& animal) -> const RawCell* {
                         const auto found = animal.counts.find(key);
                         return found == animal.counts.end() ? nullptr : &found->second.cell;
                       }});
  }
  for (const CountKey& key : alone)
    log.tell(fmt::format("{}: left out: eggs of {}, which are told apart {} treatment alone",
                         joined.source.shown(), key.worm, to_string(key.time)));
  return columns;
}

} // namespace

Table counts_rows(const JoinedAnimals& joined, ReadingLog& log) {
  const std::vector<CountsColumn> columns = columns_of(joined, log);
  Table table;
  table.source = joined.source;
  table.header.cells = {"group", "animal"};
  for (const CountsColumn& column : columns)
    table.header.cells.push_back(column.head);
  for (const RawAnimal& animal : joined.animals) {
    TableRow row;
    row.line = animal.tag.line;
    row.cells = {animal.group, animal.tag.text};
    row.places = {0, animal.tag.column};
    for (const CountsColumn& column : columns) {
      const RawCell* const cell = column.cell(animal);
      row.cells.push_back(cell != nullptr ? cell->text : std::string());
      row.places.push_back(cell != nullptr && cell->line == row.line ? cell->column : 0);
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

} // namespace eggfall
