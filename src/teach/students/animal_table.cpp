#include "teach/students/animal_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {

AnimalColumn tags(std::string head) {
  return {std::move(head), [](const Animal& animal) { return animal.tag; }};
}

AnimalColumn eggs(std::string head, std::optional<Count> Animal::*when) {
  return {std::move(head),
          [when](const Animal& animal) { return fmt::format("{}", (animal.*when)->eggs.value()); }};
}

AnimalColumn epg(std::string head, std::optional<Count> Animal::*when) {
  return {std::move(head),
          [when](const Animal& animal) { return fmt::format("{:g}", (animal.*when)->epg()); }};
}

AnimalColumn blank(std::string head) {
  return {std::move(head), [](const Animal&) { return std::string(); }};
}

HtmlTable animal_table(std::string running_head, const std::vector<GroupColumns>& groups) {
  HtmlTable table{"", {}, {}, std::move(running_head)};
  std::size_t most = 0;
  for (const GroupColumns& each : groups) {
    most = std::max(most, each.group.animals.size());
    for (const AnimalColumn& column : each.columns)
      table.heads.push_back(column.head);
  }
  for (std::size_t i = 0; i < most; ++i) {
    std::vector<std::string>& row = table.rows.emplace_back();
    for (const GroupColumns& each : groups)
      for (const AnimalColumn& column : each.columns)
        row.push_back(i < each.group.animals.size() ? column.cell(each.group.animals[i]) : "");
  }
  return table;
}

void add_sum_row(HtmlTable& table, std::size_t position, const std::string& name,
                 const std::vector<std::size_t>& columns) {
  std::vector<std::string> row(table.heads.size());
  for (const std::size_t column : columns)
    row[column] = name;
  table.rows.insert(table.rows.begin() + static_cast<std::ptrdiff_t>(position), std::move(row));
}

} // namespace eggfall
