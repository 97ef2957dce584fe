#include "judgement/visit_course.hpp"

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "trial/visits.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

/// The fall from the samples before treatment to those that the group now has as its samples after.
VisitFall fall_now(const Group& group, const PosteriorPriors& priors, double level) {
  VisitFall fall;
  for (const Animal& animal : group.animals) {
    fall.missing += animal.before && !animal.after ? 1 : 0;
    fall.without_before += animal.after && !animal.before ? 1 : 0;
  }
  auto comparison = compare(Design::paired, group, nullptr);
  if (!comparison) {
    fall.interval.level = level;
    fall.interval.why_not = "no animal was sampled both before treatment and now";
    return fall;
  }
  fall.animals = comparison->arms.front().above.size();
  fall.mean_before = mean_epg(comparison->arms.front().below);
  fall.mean_epg = mean_epg(comparison->arms.front().above);
  const Evidence evidence(std::move(*comparison), priors);
  fall.reduction = evidence.reduction();
  fall.interval = evidence.headline(level);
  if (const OrReason<GuardedLaw>& law = evidence.guarded())
    fall.law = *law;
  return fall;
}

} // namespace

std::vector<VisitFall> visit_falls(const Group& group, const DayCheck& days,
                                   const PosteriorPriors& priors, double level) {
  std::vector<VisitFall> falls;
  const std::vector<int> planned = visit_days(group);
  if (planned.empty())
    return falls;
  if (has_own_after(group)) {
    falls.push_back(fall_now(group, priors, level));
    falls.back().is_test = true;
    if (days.undated == 0 && days.first_day == days.last_day)
      falls.back().day = days.first_day;
  }
  for (const int day : planned) {
    falls.push_back(fall_now(on_visit(group, day), priors, level));
    falls.back().day = day;
    falls.back().is_test = group.day_after == day;
  }
  std::ranges::stable_sort(falls, {}, [](const VisitFall& fall) { return fall.day.value_or(0); });
  return falls;
}

} // namespace eggfall
