#pragma once

#include "intake/reading_log.hpp"
#include "intake/sheet_reading.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace eggfall {

/// Which column of a sheet names the groups that are compared.
class GroupNames {
public:
  /// @throws OpenQuestion if a column of groups and one of drenches both could.
  GroupNames(const SheetReading& reading, ReadingLog& log);

  /// Of a row. Where each name stands once, at the head of its animals (as merged cells do), a row
  /// that leaves it empty has the name above it.
  std::string name_of(const SampleRow& row);

  /// Whether the sheet itself says so.
  bool are_told() const { return column_ != nullptr || sections_; }

  std::size_t filled_down() const { return filled_down_; } ///< Rows named as the one above.

private:
  void choose(const SheetReading& reading, ReadingLog& log);

  const ColumnReading* column_ = nullptr;
  bool sections_ = false;
  bool merged_ = false; ///< Names stand at the heads of their rows alone.
  std::string last_;
  std::size_t filled_down_ = 0;
};

/// Whether each text of a column stands in one row alone, with empty cells below: as merged cells
/// do.
bool is_merged(const SheetReading& reading, const ColumnReading& column);

/// What all animals are called where nothing tells groups apart.
inline constexpr std::string_view only_group = "all animals";

} // namespace eggfall
