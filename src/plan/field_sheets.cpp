#include "plan/field_sheets.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/judgement/dose_check.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/known_drench.hpp"
#include "plan/allocation.hpp"
#include "plan/dose_strip.hpp"
#include "trial/drug_words.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <set>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t most_animals = 20'000;
constexpr std::size_t least_a_group = 2;

constexpr double an_animal_kg = 40; // for an example

constexpr Names<BlockedBy, 3> blocked_by_names{{
    {BlockedBy::count, "count"},
    {BlockedBy::weight, "weight"},
    {BlockedBy::nothing, "nothing"},
}};

using Value = std::optional<double> ListedAnimal::*;

Value value_of(BlockedBy blocked_by) {
  switch (blocked_by) {
  case BlockedBy::count:
    return &ListedAnimal::epg;
  case BlockedBy::weight:
    return &ListedAnimal::weight_kg;
  case BlockedBy::nothing:
    break;
  }
  return nullptr;
}

bool all_have(const std::vector<ListedAnimal>& mob, BlockedBy blocked_by) {
  const Value value = value_of(blocked_by);
  return value == nullptr || std::ranges::all_of(mob, [value](const ListedAnimal& animal) {
           return (animal.*value).has_value();
         });
}

void check_groups(const std::vector<PlannedGroup>& groups) {
  std::set<std::string_view> names;
  std::size_t controls = 0;
  for (const PlannedGroup& group : groups) {
    if (group.name.empty())
      throw InputError("a group without a name; expected one");
    if (is_sum_word(group.name))
      throw InputError(fmt::format("the group {}, which tables say of a sum; expected another name",
                                   in_quotes(group.name)));
    if (!names.insert(group.name).second)
      throw InputError(
          fmt::format("the group {} twice; expected each once", in_quotes(group.name)));
    controls += group.treated() ? 0 : 1;
  }
  if (controls > 1)
    throw InputError("two control groups; expected one at most");
  if (groups.size() == controls)
    throw InputError("no treated group; expected one or more");
}

void check_rates(const std::vector<PlannedGroup>& groups) {
  for (const PlannedGroup& group : groups)
    if (group.label && group.label->ml_per_kg() > field_practice().highest_dose_rate)
      throw InputError(fmt::format(
          "the group {}: found a dose rate of {:g} mL for each kg, {:g} mL for an animal of {:g} "
          "kg; expected at most {:g} mL for each kg, as drench labels have it (are these mg for "
          "each kg? They need the mg in each mL beside them)",
          in_quotes(group.name), group.label->ml_per_kg(), an_animal_kg * group.label->ml_per_kg(),
          an_animal_kg, field_practice().highest_dose_rate));
}

/// A dose is worked out from what stands in the list, and nobody looks at it again.
void check_weights(const std::vector<ListedAnimal>& mob) {
  std::vector<double> weights;
  for (const ListedAnimal& animal : mob)
    if (animal.weight_kg)
      weights.push_back(*animal.weight_kg);
  if (weights.empty())
    return;
  const auto middle = weights.begin() + static_cast<std::ptrdiff_t>(weights.size() / 2);
  std::ranges::nth_element(weights, middle);
  const double far = field_practice().weight_beside_the_middle;
  for (const ListedAnimal& animal : mob)
    if (animal.weight_kg &&
        (*animal.weight_kg > far * *middle || *animal.weight_kg * far < *middle))
      throw InputError(fmt::format(
          "the animal {}: found a weight of {:g} kg in a list whose middle is {:g} kg; expected "
          "one near it, for doses hang on it (if it is right, leave it empty and dose this animal "
          "by itself)",
          in_quotes(animal.tag), *animal.weight_kg, *middle));
}

/// Weights that are all wrong alike agree with each other, but not with the host.
void check_weights_of_host(const FieldSheetQuestion& question) {
  const std::optional<ValueRange> possible = possible_weights(question.host);
  if (!possible)
    return;
  for (const ListedAnimal& animal : question.mob)
    if (animal.weight_kg && !possible->hold(*animal.weight_kg))
      throw InputError(fmt::format(
          "the animal {}: found a weight of {:g} kg where the host is {}; expected {:g} to {:g} "
          "kg, for doses hang on it (is it in kg, and the host right? If it is, leave the weight "
          "empty and dose this animal by itself)",
          in_quotes(animal.tag), *animal.weight_kg, question.host, possible->least,
          possible->most));
}

/// Steps no coarser than this overdose no animal that needs so much: 1, 2 or 5 of a decimal place.
/// Nothing where these would be finer than a gun's.
std::optional<double> fine_steps(double needed_ml) {
  const double most = (overdosed_from() - 1) * needed_ml;
  std::optional<double> best;
  for (double place = FieldSheetQuestion::dose_steps_ml.least; place < most; place *= 10)
    for (const double step : {1.0, 2.0, 5.0})
      if (step * place < most)
        best = step * place;
  return best;
}

void check_steps(const FieldSheets& sheets, const FieldSheetQuestion& question) {
  const PlannedAnimal* worst = nullptr;
  double least_needed = 0;
  for (const PlannedAnimal& each : sheets.animals) {
    if (!each.dose_ml)
      continue;
    const LabelDose& label = *question.groups[each.group].label;
    const double needed = label.ml_per_kg() * *each.animal.weight_kg;
    if (steps_overdose(label, *each.animal.weight_kg, question.dose_step_ml) &&
        (worst == nullptr || needed < least_needed)) {
      worst = &each;
      least_needed = needed;
    }
  }
  if (worst == nullptr)
    return;
  const std::optional<double> steps = fine_steps(least_needed);
  throw InputError(fmt::format(
      "the animal {}: found a dose of {:g} mL, rounded up to steps of {:g} mL, where {:g} kg need "
      "{:.3g} mL; expected less than {:g} times what the label asks for, since more hides early "
      "resistance and bars a good class ({})",
      in_quotes(worst->animal.tag), *worst->dose_ml, question.dose_step_ml,
      *worst->animal.weight_kg, least_needed, overdosed_from(),
      steps ? fmt::format("set finer steps of the drench gun, {:g} mL or less", *steps)
            : std::string("no drench gun has steps so fine: look at the label's rate")));
}

void check_animals(const FieldSheetQuestion& question) {
  const std::size_t groups = question.groups.size();
  if (!question.mob.empty() && question.unlisted > 0)
    throw InputError("both a list of animals and a number of them; expected one of the two");
  const std::size_t animals =
      question.mob.empty() ? groups * question.unlisted : question.mob.size();
  if (animals < least_a_group * groups)
    throw InputError(fmt::format("{} animals for {} groups; expected {} or more, {} a group",
                                 animals, groups, least_a_group * groups, least_a_group));
  if (animals > most_animals)
    throw InputError(
        fmt::format("{} animals; expected at most {} on sheets", animals, most_animals));
}

BlockedBy blocks_of(const FieldSheetQuestion& question) {
  if (question.mob.empty())
    return BlockedBy::nothing;
  if (!question.blocks)
    return all_have(question.mob, BlockedBy::count)    ? BlockedBy::count
           : all_have(question.mob, BlockedBy::weight) ? BlockedBy::weight
                                                       : BlockedBy::nothing;
  if (const Value value = value_of(*question.blocks))
    for (const ListedAnimal& animal : question.mob)
      if (!(animal.*value))
        throw InputError(fmt::format("blocks by {}: the animal {} has none; expected one for each",
                                     to_string(*question.blocks), in_quotes(animal.tag)));
  return *question.blocks;
}

std::vector<PlannedAnimal> listed(const FieldSheetQuestion& question, BlockedBy blocked) {
  std::vector<std::optional<double>> values;
  for (const ListedAnimal& animal : question.mob)
    values.push_back(value_of(blocked) != nullptr ? animal.*value_of(blocked) : std::nullopt);
  const std::vector<std::size_t> group_of = allocate(values, question.groups.size(), question.seed);
  std::vector<PlannedAnimal> animals;
  for (std::size_t i = 0; i < question.mob.size(); ++i)
    animals.push_back({question.mob[i], group_of[i], std::nullopt});
  return animals;
}

/// Numbered lines to be filled in: the animals as they come through the race, each block of them
/// one to every group.
std::vector<PlannedAnimal> unlisted(const FieldSheetQuestion& question) {
  const std::size_t groups = question.groups.size();
  const std::vector<std::size_t> group_of = allocate(
      std::vector<std::optional<double>>(groups * question.unlisted), groups, question.seed);
  std::vector<PlannedAnimal> animals;
  for (const std::size_t group : group_of)
    animals.push_back({{fmt::format("{}", animals.size() + 1), {}, {}}, group, std::nullopt});
  return animals;
}

GroupBalance balance_of(std::size_t group, const FieldSheets& sheets) {
  GroupBalance balance;
  double kg = 0;
  double epg = 0;
  for (const PlannedAnimal& each : sheets.animals) {
    if (each.group != group)
      continue;
    ++balance.animals;
    if (const auto weight = each.animal.weight_kg) {
      ++balance.weighed;
      kg += *weight;
      balance.least_kg = std::min(*weight, balance.least_kg.value_or(*weight));
      balance.most_kg = std::max(*weight, balance.most_kg.value_or(*weight));
    }
    if (each.animal.epg) {
      ++balance.counted;
      epg += *each.animal.epg;
    }
    balance.doses_ml += each.dose_ml.value_or(0);
    if (!each.dose_ml && sheets.question.groups[group].treated())
      ++balance.without_dose;
  }
  if (balance.weighed > 0)
    balance.mean_kg = kg / static_cast<double>(balance.weighed);
  if (balance.counted > 0)
    balance.mean_epg = epg / static_cast<double>(balance.counted);
  return balance;
}

/// A sheet that sends people out on a day that no good class is given on would waste their test.
SecondSample judged_days(std::size_t group, const UsualDays& usual, int first) {
  SecondSample sample{group, usual};
  sample.usual.first_day = std::clamp(usual.first_day, first, last_day_of_practice());
  sample.usual.last_day = std::clamp(usual.last_day, first, last_day_of_practice());
  sample.some_usual_left_out =
      sample.usual.first_day != usual.first_day || sample.usual.last_day != usual.last_day;
  return sample;
}

std::vector<SecondSample> second_samples(const FieldSheetQuestion& question,
                                         const CutOffs& cut_offs) {
  Trial trial;
  for (const PlannedGroup& group : question.groups) {
    Group& described = trial.groups.emplace_back();
    described.name = group.name;
    described.role = group.role;
    described.drench = group.drench;
    described.classes = group.classes;
    described.host = question.host;
    // As from a table, where a class that is left out is taken from the name that tells it.
    const auto substance = substance_telling_class(drench_words_of(group));
    if (group.treated() && group.classes.empty() && substance)
      described.classes = {*substance->drug_class};
  }
  std::vector<SecondSample> samples;
  int first_day = 0;
  int last_day = std::numeric_limits<int>::max();
  for (std::size_t i = 0; i < trial.groups.size(); ++i) {
    if (!question.groups[i].treated())
      continue;
    const SecondSample sample =
        judged_days(i, usual_days(cut_offs, trial.groups[i], trial),
                    KnownDrench(trial.groups[i].classes, drench_words_of(question.groups[i]))
                        .first_day_to_be_good());
    first_day = std::max(first_day, sample.usual.first_day);
    last_day = std::min(last_day, sample.usual.last_day);
    samples.push_back(sample);
  }
  for (SecondSample& sample : samples) {
    sample.first_day = first_day <= last_day ? first_day : common_day();
    sample.last_day = first_day <= last_day ? last_day : common_day();
  }
  return samples;
}

} // namespace

std::string_view to_string(BlockedBy blocked_by) {
  return name_of(blocked_by_names, blocked_by, "a way of blocking");
}

std::optional<BlockedBy> parse_blocked_by(std::string_view name) {
  return value_named(blocked_by_names, name);
}

BenchFigures FieldSheetBench::after() const {
  BenchFigures bench = before;
  bench.chambers = chambers_after;
  return bench;
}

std::string drench_words_of(const PlannedGroup& group) {
  return group.drench + " " + group.name;
}

bool steps_overdose(const LabelDose& label, double weight_kg, double step_ml) {
  constexpr double rounding = 1e-9;
  return label.dose_ml(weight_kg, step_ml) >=
         overdosed_from() * (1 - rounding) * label.ml_per_kg() * weight_kg;
}

bool FieldSheetQuestion::has_control() const {
  return !std::ranges::all_of(groups, &PlannedGroup::treated);
}

int FieldSheetQuestion::dose_decimals() const {
  constexpr int most = 3; // as fine as LabelDose::dose_ml() goes
  double scaled = dose_step_ml;
  int decimals = 0;
  while (decimals < most && std::abs(scaled - std::round(scaled)) > 1e-6) {
    scaled *= 10;
    ++decimals;
  }
  return decimals;
}

std::optional<BenchFigures> FieldSheetQuestion::bench_of(std::string_view occasion) const {
  if (!bench)
    return std::nullopt;
  return occasion == "before" ? bench->before : bench->after();
}

FieldSheets field_sheets(FieldSheetQuestion question, const CutOffs& cut_offs) {
  check_groups(question.groups);
  check_animals(question);
  check_rates(question.groups);
  check_weights(question.mob);
  check_weights_of_host(question);
  if (question.bench) {
    multiplication_factor(question.bench->before);
    multiplication_factor(question.bench->after());
  }
  FieldSheets sheets;
  sheets.blocked = blocks_of(question);
  sheets.animals = question.mob.empty() ? unlisted(question) : listed(question, sheets.blocked);
  for (PlannedAnimal& each : sheets.animals)
    if (const auto& label = question.groups[each.group].label; label && each.animal.weight_kg)
      each.dose_ml = label->dose_ml(*each.animal.weight_kg, question.dose_step_ml);
  check_steps(sheets, question);
  sheets.second_samples = second_samples(question, cut_offs);
  sheets.question = std::move(question);
  for (std::size_t group = 0; group < sheets.question.groups.size(); ++group)
    sheets.balance.push_back(balance_of(group, sheets));
  return sheets;
}

} // namespace eggfall
