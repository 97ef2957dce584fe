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

CountsColumn attribute_column(const std::string& head, const std::string& name) {
  return {head, [name](const RawAnimal& animal) -> const RawCell* {
            const auto at = animal.attributes.find(name);
            return at == animal.attributes.end() ? nullptr : &at->second;
          }};
}

/// "eggs_before_2" or "epg_after:nematodirus"
std::string count_head(const CountKey& key, CountUnit unit) {
  std::string head = fmt::format("{}_{}", to_string(unit), to_string(key.occasion));
  if (key.repeat > 0)
    head += fmt::format("_{}", key.repeat);
  if (!key.worm.empty())
    head += ':' + key.worm;
  return head;
}

std::vector<CountsColumn> columns_of(const JoinedAnimals& joined) {
  std::set<std::string> names;
  std::set<CountKey> keys;
  for (const RawAnimal& animal : joined.animals) {
    for (const auto& [name, cell] : animal.attributes)
      names.insert(name);
    for (const auto& [key, count] : animal.counts)
      keys.insert(key);
  }
  std::vector<CountsColumn> columns;
  if (names.contains("farm") && !names.contains("trial"))
    columns.push_back(attribute_column("trial", "farm"));
  for (const std::string& name : names)
    if (name != "farm")
      columns.push_back(attribute_column(name, name));
  for (const CountKey& key : keys) {
    // A worm that was told apart at one time alone cannot be compared.
    CountKey other = key;
    other.occasion = key.occasion == Occasion::before ? Occasion::after : Occasion::before;
    if (!key.worm.empty() && !keys.contains(other))
      continue;
    columns.push_back(
        {count_head(key, CountUnit::eggs), [key](const RawAnimal& animal) -> const RawCell* {
           const auto at = animal.counts.find(key);
           return at == animal.counts.end() ? nullptr : &at->second.cell;
         }});
  }
  return columns;
}

} // namespace

Table counts_rows(const JoinedAnimals& joined) {
  const std::vector<CountsColumn> columns = columns_of(joined);
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
