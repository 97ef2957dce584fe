#include "eggfall/base/shard.hpp"

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

namespace eggfall {

void check_complete(const std::vector<Shard>& shards) {
  if (shards.empty())
    throw InputError("found no part; expected all parts of a whole");
  std::vector<bool> seen(shards.front().of);
  for (const Shard& shard : shards) {
    if (shard.of != seen.size() || shard.index < 1 || shard.index > shard.of)
      throw InputError(fmt::format("part {}/{}; expected parts 1 to {} of {}", shard.index,
                                   shard.of, seen.size(), seen.size()));
    if (seen[shard.index - 1])
      throw InputError(
          fmt::format("part {}/{} comes twice; expected each part once", shard.index, shard.of));
    seen[shard.index - 1] = true;
  }
  for (std::size_t i = 0; i < seen.size(); ++i)
    if (!seen[i])
      throw InputError(fmt::format("part {}/{} is missing; expected all {} parts", i + 1,
                                   seen.size(), seen.size()));
}

} // namespace eggfall
