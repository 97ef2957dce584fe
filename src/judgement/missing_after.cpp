#include "eggfall/judgement/missing_after.hpp"

namespace eggfall {
namespace {

double total(const std::vector<Count>& counts) {
  double sum = 0;
  for (const Count& count : counts)
    sum += count.epg_of_all();
  return sum;
}

} // namespace

std::optional<MissingAfter> missing_after(const Group& treated, const Comparison& comparison) {
  if (!pairs_animals(comparison.design))
    return std::nullopt;
  MissingAfter missing;
  double missing_before = 0;
  for (const Animal& animal : treated.animals)
    if (animal.before && !animal.after) {
      missing.animals += animal.before->animals;
      missing.tags.push_back(animal.tag);
      missing_before += animal.before->epg_of_all();
    }
  if (missing.tags.empty())
    return std::nullopt;
  double animals_before = 0;
  double eggs_before = 0;
  for (const Animal& animal : treated.animals)
    if (animal.before) {
      animals_before += animal.before->animals;
      eggs_before += animal.before->epg_of_all();
    }
  missing.share_of_animals = static_cast<double>(missing.animals) / animals_before;
  missing.share_of_eggs = eggs_before > 0 ? missing_before / eggs_before : 0;
  const Arm& arm = comparison.arms.front();
  const double after = total(arm.above);
  double before = total(arm.below) + missing_before;
  double untreated = 1;
  if (comparison.design == Design::controlled) {
    const Arm& control = comparison.arms.back();
    before *= total(control.below);
    untreated = total(control.above);
  }
  if (before > 0) {
    missing.fall_if_unchanged = 1 - (after + missing_before) * untreated / before;
    missing.fall_if_none = 1 - after * untreated / before;
  }
  return missing;
}

} // namespace eggfall
