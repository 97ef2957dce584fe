#include "eggfall/statistics/efficacy_drop.hpp"

#include "eggfall/statistics/ranking.hpp"
#include "statistics/agreed_chance.hpp"

namespace eggfall {
namespace {

double guarded_chance(const GuardedLaw& earlier, const GuardedLaw& later, double margin) {
  AgreedChance dropped;
  for (const Witness witness : all_witnesses) {
    if (!earlier.speaks(witness) && !later.speaks(witness))
      continue;
    const LogRatioDensity first = earlier.law_of(witness);
    dropped.hear(1 - later.law_of(witness).probability_none_lower({&first}, margin).value);
  }
  return dropped.value();
}

} // namespace

EfficacyDrop drop_between(const GuardedLaw& earlier, const GuardedLaw& later) {
  return {guarded_chance(earlier, later, 0), guarded_chance(earlier, later, close_efficacies)};
}

} // namespace eggfall
