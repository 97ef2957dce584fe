#include "eggfall/statistics/efficacy_drop.hpp"

#include "eggfall/statistics/ranking.hpp"

#include <algorithm>

namespace eggfall {
namespace {

double guarded_chance(const GuardedLaw& earlier, const GuardedLaw& later, double margin) {
  double least = 1;
  double most = 0;
  for (const Witness witness : all_witnesses) {
    if (!earlier.speaks(witness) && !later.speaks(witness))
      continue;
    const LogRatioDensity first = earlier.law_of(witness);
    const double chance = 1 - later.law_of(witness).probability_none_lower({&first}, margin).value;
    least = std::min(least, chance);
    most = std::max(most, chance);
  }
  if (most <= 0.5)
    return most;
  return std::max(least, 0.5);
}

} // namespace

EfficacyDrop drop_between(const GuardedLaw& earlier, const GuardedLaw& later) {
  return {guarded_chance(earlier, later, 0), guarded_chance(earlier, later, close_efficacies)};
}

} // namespace eggfall
