#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/base/source.hpp"

#include <cstddef>
#include <optional>

namespace eggfall {

inline constexpr std::size_t longest_cell = 1'000; ///< In bytes.
inline constexpr std::size_t most_columns = 1'000;
/// Of a row or line of a text, in bytes; so much of one is kept in memory.
inline constexpr std::size_t longest_row = most_columns * (longest_cell + 48);
inline constexpr std::size_t largest_table = std::size_t{64} << 20U; ///< In bytes, of a file.

/// What is wrong with a table of so many bytes, if it is too large to be held.
std::optional<Problem> too_large(const Source& source, std::size_t bytes);

/// What is wrong with so many rows, or so many cells in all of them (the empty ones included), if
/// they are more than 1,000,000, or 20,000,000.
std::optional<Problem> too_many(const Source& source, std::size_t rows, std::size_t cells);

} // namespace eggfall
