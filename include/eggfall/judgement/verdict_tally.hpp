#pragma once

#include "eggfall/judgement/verdict.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace eggfall {

inline constexpr std::size_t verdict_classes = all_verdict_classes.size();

/// How often each class was given, by VerdictClass. Whole numbers, so that sums do not depend on
/// their order.
using VerdictTally = std::array<std::uint64_t, verdict_classes>;

inline void add(VerdictTally& sum, const VerdictTally& more) {
  for (std::size_t v = 0; v < verdict_classes; ++v)
    sum[v] += more[v];
}

} // namespace eggfall
