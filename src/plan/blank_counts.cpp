#include "plan/blank_counts.hpp"

#include "formats/csv_row.hpp"

#include <fmt/format.h>

#include <optional>

namespace eggfall {
namespace {

/// So many counts of one sample can be told apart by a table.
constexpr int most_chambers = 20;

/// Whether each chamber has its column; repeated counts and kinds told apart go into two tables.
bool by_chamber(const FieldSheetQuestion& question, const std::optional<BenchFigures>& bench) {
  return bench && question.told_apart.empty() && bench->chambers > 1 &&
         bench->chambers <= most_chambers;
}

/// EPG for an egg in one of egg_columns().
std::string factor_cell(const FieldSheetQuestion& question, std::string_view occasion) {
  std::optional<BenchFigures> bench = question.bench_of(occasion);
  if (!bench)
    return {};
  if (by_chamber(question, bench))
    bench->chambers = 1;
  return fmt::format("{:.10g}", multiplication_factor(*bench).value());
}

/// The cells for eggs, empty, and their factors: the same for every animal.
std::vector<std::string> empty_counts(const FieldSheetQuestion& question) {
  std::vector<std::string> cells;
  for (const std::string_view occasion : {"before", "after"}) {
    cells.resize(cells.size() + egg_columns(question, occasion).size());
    cells.push_back(factor_cell(question, occasion));
  }
  return cells;
}

std::string row_of(const PlannedAnimal& each, const FieldSheetQuestion& question,
                   const std::vector<std::string>& counts) {
  const PlannedGroup& group = question.groups[each.group];
  std::vector<std::string> cells{
      csv_cell(group.name),   csv_cell(each.animal.tag), std::string(to_string(group.role)),
      csv_cell(group.drench), to_string(group.classes),  csv_cell(question.host)};
  cells.insert(cells.end(), counts.begin(), counts.end());
  cells.push_back(csv_cell(each.animal.weight_kg));
  const bool by_substance = group.label && group.label->mg_per_kg();
  cells.push_back(group.label && !by_substance ? fmt::format("{}", group.label->ml_per_kg()) : "");
  cells.push_back(by_substance ? csv_cell(group.label->mg_per_kg()) : "");
  cells.push_back(by_substance ? csv_cell(group.label->mg_per_ml()) : "");
  cells.resize(cells.size() + 4); // what was done on the day
  return csv_row(cells) + "\r\n";
}

} // namespace

std::vector<std::string> egg_columns(const FieldSheetQuestion& question,
                                     std::string_view occasion) {
  std::vector<std::string> columns;
  const std::optional<BenchFigures> bench = question.bench_of(occasion);
  if (by_chamber(question, bench))
    for (int chamber = 1; chamber <= bench->chambers; ++chamber)
      columns.push_back(fmt::format("eggs_{}_{}", occasion, chamber));
  else
    columns.push_back(fmt::format("eggs_{}", occasion));
  for (const std::string& kind : question.told_apart)
    columns.push_back(fmt::format("eggs_{}:{}", occasion, kind));
  return columns;
}

std::string blank_counts(const FieldSheets& sheets) {
  std::vector<std::string> heads{"group", "animal", "role", "drench", "class", "host"};
  for (const std::string_view occasion : {"before", "after"}) {
    for (const std::string& column : egg_columns(sheets.question, occasion))
      heads.push_back(csv_cell(column));
    heads.push_back(fmt::format("factor_{}", occasion));
  }
  heads.insert(heads.end(), {"weight_kg", "label_ml_per_kg", "label_mg_per_kg", "mg_per_ml",
                             "dose_ml", "date_before", "date_treated", "date_after"});
  std::string text = csv_row(heads) + "\r\n";
  const std::vector<std::string> counts = empty_counts(sheets.question);
  for (const PlannedAnimal& each : sheets.animals)
    text += row_of(each, sheets.question, counts);
  return text;
}

} // namespace eggfall
