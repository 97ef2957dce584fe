#include "formats/csv_row.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"

#include <fmt/format.h>

#include <csv.h>

namespace eggfall {
namespace {

/// Whether a spreadsheet would take the text for a formula and carry it out.
bool like_a_formula(std::string_view text) {
  return !text.empty() &&
         std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos &&
         !parse_number(text);
}

} // namespace

std::string csv_cell(std::string_view text) {
  if (like_a_formula(text))
    return csv_cell(fmt::format("'{}", text));
  if (text.find_first_of("\",;\t\r\n") == std::string_view::npos)
    return std::string(text);
  std::string quoted(2 * text.size() + 2, '\0');
  quoted.resize(csv_write(quoted.data(), quoted.size(), text.data(), text.size()));
  return quoted;
}

std::string percent_csv_cell(const std::optional<double>& proportion) {
  return proportion ? fmt::format("{:.6f}", in_percent(*proportion)) : std::string();
}

std::string csv_row(const std::vector<std::string>& cells) {
  return fmt::format("{}", fmt::join(cells, ","));
}

} // namespace eggfall
