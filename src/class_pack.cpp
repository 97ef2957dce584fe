#include "eggfall/class_pack.hpp"

#include "eggfall/analyse.hpp"
#include "eggfall/error.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

std::vector<Count> counts_after(const Group& group) {
  std::vector<Count> counts;
  for (const Animal& animal : group.animals)
    if (animal.after)
      counts.push_back(*animal.after);
  return counts;
}

/// A class works with one drench and a control, whose animals are all there.
void check_for_class(const Scenario& scenario) {
  check(scenario);
  std::size_t treated = 0;
  for (const ScenarioGroup& group : scenario.groups) {
    treated += group.role == Role::treated ? 1 : 0;
    if (group.model.missing_after > 0)
      throw InputError("a class's scenario: found animals that are not found again; expected all, "
                       "so that everyone works with as many");
  }
  if (treated != 1 || scenario.groups.size() != 2)
    throw InputError(fmt::format("a class's scenario: found {} treated groups and {} controls; "
                                 "expected one of each",
                                 treated, scenario.groups.size() - treated));
}

} // namespace

const ScenarioGroup& treated_group(const Scenario& scenario) {
  return *std::ranges::find(scenario.groups, Role::treated, &ScenarioGroup::role);
}

AnalysisSettings class_settings(std::uint64_t seed) {
  AnalysisSettings settings;
  settings.level = ClassPack::level;
  settings.seed = seed;
  settings.simulations = 0;
  settings.design = Design::two_group;
  settings.criteria = "waavp-1992";
  settings.resamples = 2'000;
  return settings;
}

ClassPack class_pack(const Scenario& scenario, std::size_t students, std::uint64_t seed,
                     const CutOffs& cut_offs) {
  if (students < 1 || students > ClassPack::most_students)
    throw InputError(
        fmt::format("students: found {}; expected 1 to {}", students, ClassPack::most_students));
  check_for_class(scenario);
  ClassPack pack{scenario, seed, true_efficacy(treated_group(scenario)), {}};
  for (std::size_t number = 0; number < students; ++number) {
    ClassSheet sheet;
    sheet.simulated = simulate(scenario, seed, static_cast<std::uint32_t>(number));
    const Trial& trial = sheet.simulated.trial;
    const Group& treated = *std::ranges::find(trial.groups, Role::treated, &Group::role);
    sheet.hand =
        hand_calculation(counts_after(treated), counts_after(*control_of(trial)), ClassPack::level);
    sheet.analysis = analyse(trial, cut_offs, class_settings(seed)).groups.front();
    pack.sheets.push_back(std::move(sheet));
  }
  return pack;
}

const Interval& interval_of(const GroupAnalysis& analysis, Method method) {
  return *std::ranges::find(analysis.intervals, method, &Interval::method);
}

bool holds(const Interval& interval, double truth) {
  return interval.usable() && *interval.lower <= truth && truth <= *interval.upper;
}

IntervalTally tally(const ClassPack& pack, Method method) {
  IntervalTally result;
  for (const ClassSheet& sheet : pack.sheets) {
    const Interval& interval = interval_of(sheet.analysis, method);
    if (!interval.usable())
      ++result.none;
    else if (holds(interval, pack.truth))
      ++result.held;
    else
      ++result.missed;
  }
  return result;
}

} // namespace eggfall
