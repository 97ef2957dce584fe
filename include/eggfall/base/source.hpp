#pragma once

#include <cstddef>
#include <string>
#include <utility>

namespace eggfall {

/// Where an input comes from, and what messages call the places in it.
struct Source {
  std::string name; ///< File or option.
  /// The sheet of a workbook; empty for a text, and where the sheet is not known yet.
  std::string sheet;

  Source() = default;
  Source(std::string of_name, std::string of_sheet = {})
      : name(std::move(of_name)), sheet(std::move(of_sheet)) {}
  Source(const char* of_name) : name(of_name) {}

  bool is_sheet() const { return !sheet.empty(); }

  /// "t.csv", or "t.xlsx, sheet "Counts"".
  std::string shown() const;

  /// "line 3" of a text, "row 3" of a sheet, counted from 1.
  std::string line(std::size_t number) const;

  /// "column 3" of a text, "column C" of a sheet, counted from 1.
  std::string column(std::size_t number) const;

  bool operator==(const Source&) const = default;
};

} // namespace eggfall
