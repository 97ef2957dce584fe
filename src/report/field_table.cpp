#include "report/field_table.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "formats/terminal_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

namespace eggfall {
namespace {

struct Column {
  std::array<std::string, 2> head;
  std::vector<std::string> cells; ///< Empty: nothing known.

  bool used() const {
    return std::ranges::any_of(cells, [](const std::string& cell) { return !cell.empty(); });
  }
};

} // namespace

std::string field_table(const DoseCheck& doses, const DayCheck& days) {
  std::array<Column, 7> columns{{{{"weight", "kg"}, {}},
                                 {{"dose", "mL"}, {}},
                                 {{"needed", "mL"}, {}},
                                 {{"of", "label"}, {}},
                                 {{"", "mg/kg"}, {}},
                                 {{"days", "before"}, {}},
                                 {{"days", "after"}, {}}}};
  const auto add = [](Column& column, const auto& value) {
    column.cells.push_back(value ? number(static_cast<double>(*value)) : std::string());
  };
  std::size_t tag_width = 6;
  for (std::size_t i = 0; i < doses.animals.size(); ++i) {
    const AnimalDose& dose = doses.animals[i];
    constexpr std::size_t widest = 26;
    tag_width = std::clamp(character_count(dose.animal), tag_width, widest);
    add(columns[0], dose.weight_kg);
    add(columns[1], dose.dose_ml);
    add(columns[2], dose.needed_ml);
    columns[3].cells.push_back(dose.share ? fmt::format("{:.0f}%", 100 * *dose.share)
                                          : std::string());
    add(columns[4], dose.mg_per_kg);
    add(columns[5], days.animals.at(i).before);
    add(columns[6], days.animals.at(i).after);
  }
  if (std::ranges::none_of(columns, &Column::used))
    return {};
  TerminalTable table{4, tag_width, {}};
  std::vector<const Column*> used;
  for (const Column& column : columns)
    if (column.used()) {
      used.push_back(&column);
      table.columns.push_back({6, Side::right, 1});
    }
  const auto row = [&](std::string_view name, const auto& cell_of) {
    std::vector<std::string> cells;
    for (const Column* const column : used)
      cells.push_back(cell_of(*column));
    return table.row(name, cells);
  };
  std::string out = row("animal", [](const Column& column) { return column.head[0]; }) +
                    row("", [](const Column& column) { return column.head[1]; });
  for (std::size_t i = 0; i < doses.animals.size(); ++i)
    out += row(doses.animals[i].animal, [i](const Column& column) {
      return column.cells[i].empty() ? std::string("-") : column.cells[i];
    });
  return out;
}

} // namespace eggfall
