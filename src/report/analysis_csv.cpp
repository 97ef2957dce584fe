#include "eggfall/report/analysis_csv.hpp"

#include "formats/csv_row.hpp"
#include "report/analysis_workbook.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

std::string cell(std::monostate) {
  return {};
}

std::string cell(const std::string& text) {
  return csv_cell(text);
}

std::string cell(const InPercent& value) {
  return percent_csv_cell(value.proportion);
}

template <typename Value> std::string cell(Value value) {
  return fmt::format("{}", value);
}

} // namespace

std::string analysis_csv(const std::vector<TrialAnalysis>& trials) {
  const ResultSheet sheet = intervals_sheet(trials);
  std::string text = csv_row(sheet.columns) + "\r\n";
  for (const std::vector<ResultCell>& row : sheet.rows) {
    std::vector<std::string> cells;
    for (const ResultCell& each : row)
      cells.push_back(std::visit([](const auto& value) { return cell(value); }, each));
    text += csv_row(cells) + "\r\n";
  }
  return text;
}

} // namespace eggfall
