#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace eggfall {

/// Allocates animals to groups at random within blocks (randomised complete blocks: Fisher 1935,
/// The Design of Experiments, chapter 4).
///
/// Animals are put in order of `values` (a count or a weight; those without a value last; equals
/// and those without in the order given) and cut into blocks of `groups` animals. Each block gives
/// one animal to every group, every permutation being as likely as another; a last block that is
/// not full goes to as many groups chosen at random. Group sizes so differ by one at most.
///
/// @return a group, from 0 to `groups` - 1, for every animal. Block b draws from the stream of
/// seed,
///   "allocation" and b alone.
/// @throws InputError unless 1 <= `groups` <= 1,000,000.
std::vector<std::size_t> allocate(const std::vector<std::optional<double>>& values,
                                  std::size_t groups, std::uint64_t seed);

} // namespace eggfall
