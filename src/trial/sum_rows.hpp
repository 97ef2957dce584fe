#pragma once

#include "trial/header_cells.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// The rows of a table that sum it up, as people write them below it: "Total", "Mean" and the like
/// in place of an animal, a group or a worm. None of them is an animal; they are passed over, and
/// told.
class SumRows {
public:
  /// Whether one of these cells of the row says that it is a sum, a mean or their kin; the row is
  /// then remembered.
  bool takes(const RowCells& row, const std::vector<Column>& names);

  /// What was passed over; nothing if no row was.
  std::optional<std::string> note(const Source& source) const;

private:
  std::size_t count_ = 0;
  std::vector<std::string> shown_; ///< The first few, with their places.
};

} // namespace eggfall
