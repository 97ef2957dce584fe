#include "formats/table_limits.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

constexpr std::size_t most_rows = 1'000'000;
/// A sheet stores no empty cells, so that a small file could ask for any memory.
constexpr std::size_t most_cells = 20'000'000;

} // namespace

std::optional<Problem> too_large(const Source& source, std::size_t bytes) {
  if (bytes <= largest_table)
    return std::nullopt;
  return Problem{source.name,
                 0,
                 0,
                 {},
                 fmt::format("{} bytes", bytes),
                 fmt::format("a table of at most {} bytes", largest_table)};
}

std::optional<Problem> too_many(const Source& source, std::size_t rows, std::size_t cells) {
  if (rows > most_rows)
    return Problem{source, 0, 0, {}, fmt::format("more than {} rows", most_rows), "fewer"};
  if (cells > most_cells)
    return Problem{source,
                   0,
                   0,
                   {},
                   fmt::format("more than {} cells, the empty ones included", most_cells),
                   "fewer rows, or fewer columns"};
  return std::nullopt;
}

} // namespace eggfall
