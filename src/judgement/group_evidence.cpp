#include "eggfall/judgement/group_evidence.hpp"

#include "eggfall/base/error.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {

SampleSummary summarise(const std::vector<Count>& counts) {
  SampleSummary summary;
  const CountTotals total = totals_of(counts);
  summary.animals = total.animals;
  summary.animals_mixed = total.animals_mixed;
  summary.eggs = total.eggs;
  summary.factor = total.factor;
  if (counts.empty())
    return summary;
  std::vector<std::uint32_t> eggs;
  for (const Count& count : counts) {
    eggs.push_back(count.eggs.value());
    summary.pools += count.animals > 1 ? 1 : 0;
    summary.largest = std::max(summary.largest, count.animals);
  }
  summary.mean_epg = mean_epg(counts);
  summary.animals_without_eggs = static_cast<std::size_t>(std::ranges::count(eggs, 0U));
  if (summary.factor)
    summary.spread = count_spread(eggs);
  return summary;
}

std::vector<AnimalResult> animal_results(const Group& group) {
  std::vector<AnimalResult> results;
  for (const Animal& animal : group.animals) {
    AnimalResult result{animal.tag, animal.before, animal.after, std::nullopt};
    if (animal.before && animal.after && animal.before->eggs.value() > 0)
      result.reduction = 1 - animal.after->epg() / animal.before->epg();
    results.push_back(std::move(result));
  }
  return results;
}

std::vector<GuardedPart> guarded_parts(const GuardedLaw& law) {
  std::vector<GuardedPart> parts;
  for (const double level : {0.5, 0.8, 0.9, 0.95, 0.99}) {
    const RatioLimits limits = law.limits(level);
    parts.push_back({level, 1 - limits.upper, 1 - limits.lower});
  }
  return parts;
}

const SampleSummary& compared_with(const GroupEvidence& evidence) {
  if (evidence.larvae)
    throw CalculationError("a worm told by larvae has no counts to compare with");
  const bool by_control = evidence.design && !pairs_animals(*evidence.design);
  return by_control ? *evidence.control : evidence.before;
}

} // namespace eggfall
