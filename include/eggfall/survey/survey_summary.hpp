#pragma once

#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/statistics/proportion.hpp"

#include <cstdint>

namespace eggfall {

/// One stratum in numbers.
struct StratumSummary {
  /// Of the limits of both proportions.
  static constexpr double level = 0.95;

  std::uint64_t tested = 0; ///< Groups.
  std::uint64_t judged = 0; ///< Groups with a class.
  Proportion resistant;     ///< Resistant and low resistant ones, of those judged.
  /// The same, had every inconclusive and every suspected one been resistant: what the trials
  /// leave open lies between the two.
  Proportion at_most;
};

StratumSummary summarise(const VerdictTally& tally);

} // namespace eggfall
