#include "eggfall/base/shard.hpp"

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

namespace eggfall {

void check_complete(const std::vector<Shard>& shards) {
  if (shards.empty())
    throw InputError("found no part; expected all parts of a whole");
  std::vector<bool> seen(shards.front().count);
  for (const Shard& shard : shards) {
    if (shard.count != seen.size() || shard.index < 1 || shard.index > shard.count)
      throw InputError(fmt::format("part {}/{}; expected parts 1 to {} of {}", shard.index,
                                   shard.count, seen.size(), seen.size()));
    if (seen[shard.index - 1])
      throw InputError(
          fmt::format("part {}/{} comes twice; expected each part once", shard.index, shard.count));
    seen[shard.index - 1] = true;
  }
  for (std::size_t i = 0; i < seen.size(); ++i)
    if (!seen[i])
      throw InputError(fmt::format("part {}/{} is missing; expected all {} parts", i + 1,
                                   seen.size(), seen.size()));
}

} // namespace eggfall
