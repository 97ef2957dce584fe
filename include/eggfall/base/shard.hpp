#pragma once

#include <compare>
#include <cstddef>
#include <vector>

namespace eggfall {

/// One of `count` parts of a piece of work, counted by `index` from 1.
struct Shard {
  static constexpr std::size_t most = 1'000'000; ///< The largest number of parts.

  std::size_t index = 1;
  std::size_t count = 1;

  auto operator<=>(const Shard&) const = default;
};

/// @throws InputError unless the shards, of the same number of parts, are all parts of a whole,
///   each once, in any order.
void check_complete(const std::vector<Shard>& shards);

} // namespace eggfall
