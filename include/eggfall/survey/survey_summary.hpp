#pragma once

#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/statistics/proportion.hpp"

#include <cstdint>

namespace eggfall {

/// One stratum in numbers.
struct StratumSummary {
  /// Confidence level of the limits of both proportions.
  static constexpr double level = 0.95;

  std::uint64_t tested = 0; ///< Groups in the stratum.
  std::uint64_t judged = 0; ///< Groups with a class.
  Proportion resistant;     ///< Resistant and low resistant ones, of those judged.
  /// The same proportion if every inconclusive and every suspected group were resistant: the truth
  /// that the trials leave open lies between the two.
  Proportion at_most;
};

StratumSummary summarise(const VerdictTally& tally);

} // namespace eggfall
