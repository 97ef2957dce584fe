#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// A place in a sheet; both count from 1.
struct CellReference {
  std::size_t row = 0;
  std::size_t column = 0;

  bool operator==(const CellReference&) const = default;
};

/// What a sheet may hold at most.
inline constexpr CellReference last_cell{1'048'576, 16'384};

/// "C" for 3, "AA" for 27.
std::string column_letters(std::size_t column);

/// "C7"
std::string to_string(const CellReference& cell);

/// Understands "C7"; nothing for anything else, or beyond last_cell.
std::optional<CellReference> parse_cell_reference(std::string_view text);

} // namespace eggfall
