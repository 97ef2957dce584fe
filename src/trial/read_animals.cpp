#include "trial/read_animals.hpp"

#include "base/text.hpp"
#include "formats/table.hpp"
#include "trial/header_cells.hpp"
#include "trial/lookalikes.hpp"
#include "trial/possible_values.hpp"
#include "trial/sum_rows.hpp"

#include <fmt/format.h>

#include <unordered_map>
#include <utility>

namespace eggfall {
namespace {

std::optional<double> epg_of(const RowCells& row, const Column& column) {
  const std::string_view cell = row.text(column);
  if (cell.empty())
    return std::nullopt;
  const auto epg = parse_epg(cell);
  if (epg && *epg <= largest_epg)
    return epg;
  row.problem(column, in_quotes(cell),
              fmt::format("eggs per gram from 0 to {}, with no mark for thousands", largest_epg));
  return std::nullopt;
}

} // namespace

AnimalList read_animals(std::string_view bytes, const Source& source) {
  const Table table = read_table(bytes, source, "animal");
  Problems problems;
  HeaderCells header(table.header, table.source, problems);
  const Column animal = header.needed("animal");
  const Column weight = header.column("weight_kg");
  const Column epg = header.column("epg");
  problems.throw_if_any();

  AnimalList list;
  SumRows sums;
  std::unordered_map<std::string, std::size_t> line_of;
  for (const TableRow& cells : table.rows) {
    const RowCells row = header.cells_of(cells);
    if (sums.takes(row, {animal}))
      continue;
    ListedAnimal listed{row.needed(animal), row.number(weight, weights_kg, "a weight in kg"),
                        epg_of(row, epg)};
    if (listed.tag.empty())
      continue;
    const auto [first, fresh] = line_of.emplace(listed.tag, row.line());
    if (!fresh)
      row.problem(
          animal, fmt::format("{} again", in_quotes(listed.tag)),
          fmt::format("each animal once (it is on {} already)", row.name_of_line(first->second)));
    list.animals.push_back(std::move(listed));
  }
  problems.throw_if_any();
  Lookalikes tags;
  for (const ListedAnimal& each : list.animals)
    tags.add(each.tag);
  tags.tell("animals", table.source, list.notes);
  if (auto note = sums.note(table.source))
    list.notes.push_back(std::move(*note));
  if (auto note = header.note())
    list.notes.push_back(std::move(*note));
  return list;
}

} // namespace eggfall
