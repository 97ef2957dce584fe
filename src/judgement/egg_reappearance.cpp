#include "judgement/egg_reappearance.hpp"

#include "base/date.hpp"
#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/percent.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <string>

namespace eggfall {
namespace {

constexpr Names<ReappearanceOutcome, 5> outcome_names{{
    {ReappearanceOutcome::not_worked_out, "not-worked-out"},
    {ReappearanceOutcome::shorter, "shorter"},
    {ReappearanceOutcome::not_shorter, "not-shorter"},
    {ReappearanceOutcome::cannot_tell, "cannot-tell"},
    {ReappearanceOutcome::ends_too_early, "ends-too-early"},
}};

/// Why the period cannot be told of; empty if it can.
std::string why_not(const EggReappearance& reappearance, const ReappearanceRows& rows,
                    const Group& group, const Judgement& judgement, const VisitFall* test) {
  if (!is_worm_of_reappearance(rows, group))
    return group.worm.empty()
               ? "the worm is not given (column worm), and the period is one of strongyles"
               : fmt::format("the period is one of strongyles, and these are {}", group.worm);
  if (test == nullptr)
    return "no sample after treatment is the test's own";
  if (!test->day)
    return "the day of the test's own sample is not known (columns date_treated and date_after)";
  if (!test->reduction)
    return fmt::format("day {} gives no fall to set out from", *test->day);
  if (was_no_test(judgement.standing))
    return fmt::format("the sample of day {} was no reduction test, so that nothing shows that the "
                       "drench worked at first",
                       *test->day);
  const bool stands_as_failing = finds_resistance(judgement.standing.verdict_class);
  if (stands_as_failing || *test->reduction < reappearance.threshold)
    return fmt::format(
        "on day {} the fall was {}{}, and eggs that never went away cannot come back", *test->day,
        percent_beside(*test->reduction, reappearance.threshold),
        stands_as_failing
            ? fmt::format(", which stands as {}", to_string(judgement.standing.verdict_class))
            : std::string());
  return {};
}

void take_chances(EggReappearance& result, const std::vector<VisitFall>& visits, int test_day) {
  double back_by = 0;
  result.last_day_clear = test_day;
  for (const VisitFall& visit : visits) {
    if (!visit.day || *visit.day <= test_day)
      continue;
    if (visit.reduction && !result.first_day_back)
      (*visit.reduction < result.threshold ? result.first_day_back : result.last_day_clear) =
          *visit.day;
    if (!visit.law)
      continue;
    const double below = visit.law->probability_efficacy_below(result.threshold);
    back_by = std::max(back_by, below);
    result.chances.push_back({*visit.day, below, back_by});
  }
}

void compare_with_expected(EggReappearance& result) {
  const int first_day = days_a_week * result.expected->first;
  const auto later = std::ranges::find_if(
      result.chances, [&](const ReappearanceChance& each) { return each.day >= first_day; });
  result.shorter_at_least = later == result.chances.begin() ? 0.0 : std::prev(later)->back_by;
  const bool week_before =
      later != result.chances.begin() && std::prev(later)->day >= first_day - days_a_week;
  if (week_before)
    result.shorter_at_most = result.shorter_at_least;
  else if (later != result.chances.end())
    result.shorter_at_most = later->back_by;
  const double tail = (1 - result.level) / 2;
  if (*result.shorter_at_least >= 1 - tail)
    result.outcome = ReappearanceOutcome::shorter;
  else if (!result.shorter_at_most)
    result.outcome = ReappearanceOutcome::ends_too_early;
  else if (*result.shorter_at_most <= tail)
    result.outcome = ReappearanceOutcome::not_shorter;
  else
    result.outcome = ReappearanceOutcome::cannot_tell;
}

} // namespace

std::string_view to_string(ReappearanceOutcome outcome) {
  return name_of(outcome_names, outcome, "an outcome of egg reappearance");
}

bool is_likely_shorter(const EggReappearance& reappearance) {
  return reappearance.outcome != ReappearanceOutcome::shorter && reappearance.shorter_at_least &&
         *reappearance.shorter_at_least >= 0.5;
}

EarlyReturn early_return(const VisitCourse& course, VerdictClass standing) {
  if (!course.reappearance || finds_resistance(standing))
    return EarlyReturn::none;
  if (course.reappearance->outcome == ReappearanceOutcome::shorter)
    return EarlyReturn::sure;
  return is_likely_shorter(*course.reappearance) ? EarlyReturn::likely : EarlyReturn::none;
}

std::optional<EggReappearance> egg_reappearance(const ReappearanceRows& rows, const Group& group,
                                                const Judgement& judgement,
                                                const std::vector<VisitFall>& visits,
                                                double level) {
  if (visits.empty() || !is_host_of_reappearance(rows, group))
    return std::nullopt;
  EggReappearance result;
  result.level = level;
  result.threshold = rows.definition.threshold;
  result.definition = rows.definition.text;
  result.definition_citation = rows.definition.citation;
  result.expected = expected_weeks(rows, group);
  const auto test = std::ranges::find_if(visits, &VisitFall::is_test);
  result.why_not = why_not(result, rows, group, judgement, test == visits.end() ? nullptr : &*test);
  if (!result.why_not.empty())
    return result;
  take_chances(result, visits, *test->day);
  if (result.expected)
    compare_with_expected(result);
  else
    result.outcome = result.chances.empty() ? ReappearanceOutcome::ends_too_early
                                            : ReappearanceOutcome::cannot_tell;
  return result;
}

} // namespace eggfall
