#include "judgement/visit_course.hpp"

#include "eggfall/base/percent.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "judgement/field_practice.hpp"
#include "trial/visits.hpp"

#include <fmt/format.h>

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

std::optional<Caveat> later_visit_caveat(const std::vector<VisitFall>& visits,
                                         const Verdict& verdict) {
  const std::optional<double> threshold = lowest_threshold(verdict);
  const auto test = std::ranges::find_if(visits, &VisitFall::is_test);
  if (!threshold || finds_resistance(verdict.verdict_class) || test == visits.end() || !test->day)
    return std::nullopt;
  const auto speaks_against = [&](const VisitFall& visit) {
    return visit.day > test->day && *visit.day <= field_practice().last_day && visit.reduction &&
           *visit.reduction < *threshold;
  };
  std::optional<Caveat> gravest;
  for (const VisitFall& visit : visits) {
    if (!speaks_against(visit))
      continue;
    const bool sure =
        visit.interval.usable() && verdict.expected && *visit.interval.upper < *verdict.expected;
    const Severity severity = sure ? Severity::serious : Severity::warning;
    if (gravest && gravest->severity <= severity)
      continue;
    const std::string change =
        *visit.reduction < 0
            ? fmt::format("had risen by {}", percent_beside(-*visit.reduction, 0))
            : fmt::format("had fallen by only {}", percent_beside(*visit.reduction, *threshold));
    gravest = Caveat{CaveatCode::later_visit,
                     fmt::format("By the visit on day {} counts {}, below the {:g}% that the rule "
                                 "asks for, and too soon for newly picked-up worms to lay "
                                 "(practice, up to day {}). The test's own day {} may have caught "
                                 "worms that had only stopped laying.",
                                 *visit.day, change, 100 * *threshold, field_practice().last_day,
                                 *test->day),
                     severity};
  }
  return gravest;
}

} // namespace eggfall
