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

  /// Of a row; one that leaves it empty has that of the row above (as merged cells do).
  std::string of(const SampleRow& row);

  /// Whether the sheet itself says so.
  bool are_told() const { return column_ != nullptr || sections_; }

  std::size_t filled_down() const { return filled_down_; } ///< Rows named as the one above.

private:
  const ColumnReading* column_ = nullptr;
  bool sections_ = false;
  std::string last_;
  std::size_t filled_down_ = 0;
};

/// What all animals are called where nothing tells groups apart.
inline constexpr std::string_view only_group = "all animals";

} // namespace eggfall
