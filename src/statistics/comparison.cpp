#include "eggfall/statistics/comparison.hpp"

#include "base/enum_names.hpp"
#include "eggfall/base/error.hpp"

#include <algorithm>
#include <array>
#include <numeric>
#include <tuple>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<Design, 4> design_names{{
    {Design::paired, "paired"},
    {Design::two_group, "two-group"},
    {Design::controlled, "controlled"},
    {Design::baseline, "baseline"},
}};

std::string_view missing_sample(const Animal& animal, bool needs_before) {
  if (needs_before && !animal.before && !animal.after)
    return "not sampled before or after treatment";
  if (needs_before && !animal.before)
    return "not sampled before treatment";
  return "not sampled after treatment";
}

/// The treated group's arm: above the bar its counts after, and below it its
/// counts before if the design pairs them.
Arm treated_arm(const Group& group, bool with_before, std::vector<DroppedAnimal>& dropped) {
  Arm arm;
  for (const Animal& animal : group.animals) {
    if (!animal.after || (with_before && !animal.before)) {
      dropped.push_back({animal.tag, std::string(missing_sample(animal, with_before))});
      continue;
    }
    arm.above.push_back(*animal.after);
    if (with_before)
      arm.below.push_back(*animal.before);
  }
  return arm;
}

Arm control_arm(const Group& group, Design design, std::vector<DroppedAnimal>& dropped) {
  Arm arm;
  const bool use_before = design != Design::two_group;
  const bool use_after = design != Design::baseline;
  for (const Animal& animal : group.animals) {
    if ((use_before && !animal.before) || (use_after && !animal.after)) {
      dropped.push_back({animal.tag,
                         use_before && !animal.before ? "control, not sampled before treatment"
                                                      : "control, not sampled after treatment",
                         Role::control});
      continue;
    }
    if (design == Design::controlled)
      arm.above.push_back(*animal.before);
    arm.below.push_back(design == Design::baseline ? *animal.before : *animal.after);
  }
  return arm;
}

bool has_animals(const Arm& arm, std::size_t animals) {
  return std::max(arm.above.size(), arm.below.size()) >= animals;
}

std::vector<double> epg(const std::vector<Count>& counts) {
  std::vector<double> values(counts.size());
  std::ranges::transform(counts, values.begin(), &Count::epg);
  return values;
}

/// Each sample weighs as much as the number of animals mixed in it, which is taken from one side: a
/// pool's two samples are of the same animals. Empty where all weigh alike.
std::vector<double> weights(const Arm& arm) {
  const std::vector<Count>& counts = arm.above.empty() ? arm.below : arm.above;
  if (totals_of(counts).animals_a_sample)
    return {};
  std::vector<double> values(counts.size());
  std::ranges::transform(counts, values.begin(),
                         [](const Count& count) { return static_cast<double>(count.animals); });
  return values;
}

/// @throws CalculationError unless the arms are those of the design: at least one count on each
///   side that it uses, none on a side that it does not use, and equally many on both sides for
///   animals sampled twice.
void check_arms(const Comparison& comparison) {
  const bool pairs = pairs_animals(comparison.design);
  const bool controlled = comparison.design == Design::controlled;
  const std::vector<Arm>& arms = comparison.arms;
  if (arms.size() != (comparison.design == Design::paired ? 1U : 2U))
    throw CalculationError("a comparison with arms of another design");
  const Arm& treated = arms.front();
  const Arm& control = arms.back();
  if (treated.above.empty() || (!pairs && control.below.empty()))
    throw CalculationError("a comparison without a count on one side");
  if (treated.below.size() != (pairs ? treated.above.size() : 0) ||
      (arms.size() == 2 && control.above.size() != (controlled ? control.below.size() : 0)) ||
      control.below.empty())
    throw CalculationError("a comparison with sides of different length");
}

} // namespace

std::string_view to_string(Design design) {
  return name_of(design_names, design, "a design");
}

std::optional<Design> parse_design(std::string_view text) {
  return value_named(design_names, text);
}

std::string_view where_compared(Design design) {
  switch (design) {
  case Design::two_group:
    return "in the control group";
  case Design::baseline:
    return "in the control group before treatment";
  case Design::paired:
  case Design::controlled:
    break;
  }
  return "before treatment";
}

std::optional<Comparison> compare(Design design, const Group& treated, const Group* control) {
  const bool pairs_treated = pairs_animals(design);
  if (design != Design::paired && control == nullptr)
    return std::nullopt;
  Comparison comparison;
  comparison.design = design;
  comparison.arms.push_back(treated_arm(treated, pairs_treated, comparison.dropped));
  if (design != Design::paired)
    comparison.arms.push_back(control_arm(*control, design, comparison.dropped));
  for (const Arm& arm : comparison.arms)
    if (!has_animals(arm, 1))
      return std::nullopt;
  return comparison;
}

Comparison in_order_of_counts(Comparison comparison) {
  check_arms(comparison);
  const auto key = [](const std::vector<Count>& counts, std::size_t i) {
    return i < counts.size()
               ? std::tuple(counts[i].eggs.value(), counts[i].factor.value(), counts[i].animals)
               : std::tuple(0U, 0.0, 0U);
  };
  for (Arm& arm : comparison.arms) {
    std::vector<std::size_t> order(std::max(arm.above.size(), arm.below.size()));
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::sort(
        order, {}, [&](std::size_t i) { return std::pair(key(arm.above, i), key(arm.below, i)); });
    for (std::vector<Count>* side : {&arm.above, &arm.below}) {
      const std::vector<Count> given = std::exchange(*side, {});
      if (!given.empty())
        for (const std::size_t i : order)
          side->push_back(given[i]);
    }
  }
  return comparison;
}

std::optional<Design> preferred_design(const Group& treated, const Group* control) {
  const auto sampled_after = static_cast<std::size_t>(
      std::ranges::count_if(treated.animals, [](const Animal& a) { return a.after.has_value(); }));
  const std::array designs{Design::paired, Design::two_group, Design::baseline};
  for (const Design design : designs) {
    const auto comparison = compare(design, treated, control);
    if (!comparison || 2 * comparison->arms.front().above.size() < sampled_after)
      continue;
    if (std::ranges::all_of(comparison->arms, [](const Arm& arm) { return has_animals(arm, 2); }))
      return design;
  }
  // Whatever can be compared at all is better than nothing.
  const auto possible = std::ranges::find_if(
      designs, [&](Design design) { return compare(design, treated, control).has_value(); });
  return possible == designs.end() ? std::nullopt : std::optional(*possible);
}

RatioData epg(const Comparison& comparison) {
  RatioData data;
  for (const Arm& arm : comparison.arms)
    data.samples.push_back({epg(arm.above), epg(arm.below), weights(arm)});
  return data;
}

CountTotals totals_of(const std::vector<Count>& counts) {
  CountTotals total;
  total.animals = counts.size();
  if (!counts.empty()) {
    total.factor = counts.front().factor;
    total.animals_a_sample = counts.front().animals;
  }
  for (const Count& count : counts) {
    total.eggs += count.eggs.value();
    total.animals_mixed += count.animals;
    if (total.animals_a_sample != count.animals)
      total.animals_a_sample.reset();
    if (total.factor && *total.factor != count.factor)
      total.factor.reset();
  }
  return total;
}

double exposure_of(const std::vector<Count>& counts) {
  return std::accumulate(counts.begin(), counts.end(), 0.0, [](double sum, const Count& count) {
    return sum + 1 / count.factor.value();
  });
}

std::optional<double> mean_epg(const std::vector<Count>& counts) {
  if (counts.empty())
    return std::nullopt;
  double sum = 0;
  double animals = 0;
  for (const Count& count : counts) {
    sum += count.epg_of_all();
    animals += count.animals;
  }
  return sum / animals;
}

} // namespace eggfall
