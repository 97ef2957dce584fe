#pragma once

#include <fmt/format.h>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A text as one CSV cell, quoted if it must be. One that a spreadsheet would take for a formula
/// (it starts with = + - @, a tab or a carriage return, and is no number) gets an apostrophe before
/// it.
std::string csv_cell(std::string_view text);

/// Empty for nothing.
template <typename T> std::string csv_cell(const std::optional<T>& value) {
  return value ? fmt::format("{}", *value) : std::string();
}

/// A proportion in percent with six decimals, just those of in_percent() in JSON, so that what is
/// read back from there is written the same; empty for nothing.
std::string percent_csv_cell(const std::optional<double>& proportion);

/// Cells joined by commas, without a line end.
std::string csv_row(const std::vector<std::string>& cells);

} // namespace eggfall
