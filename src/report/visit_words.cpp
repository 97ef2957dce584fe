#include "report/visit_words.hpp"

#include "base/date.hpp"
#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "formats/terminal_text.hpp"
#include "judgement/egg_reappearance.hpp"
#include "judgement/provenance_words.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

namespace eggfall {
namespace {

std::string limits_of(const Interval& interval) {
  return interval.usable()
             ? fmt::format("{} to {}", percent(*interval.lower), percent_of_limit(*interval.upper))
             : std::string("none");
}

/// "a fall below 90%"
std::string below_words(const EggReappearance& reappearance) {
  return fmt::format("a fall below {:g}%", 100 * reappearance.threshold);
}

/// What was seen.
std::string seen_sentence(const EggReappearance& reappearance) {
  if (reappearance.chances.empty() && !reappearance.first_day_back)
    return "No visit is later than the test's own sample, so nothing tells when eggs came back.";
  if (!reappearance.first_day_back)
    return fmt::format("No visit up to {} had {}.", visit_name(reappearance.last_day_clear),
                       below_words(reappearance));
  return fmt::format("By the counts eggs came back between {} and {}, the first visit with {}.",
                     visit_name(reappearance.last_day_clear),
                     visit_name(reappearance.first_day_back), below_words(reappearance));
}

/// "Chances of 100 that eggs were back: 12 by week 4, 83 by week 6."
std::string chances_sentence(const EggReappearance& reappearance) {
  if (reappearance.chances.empty())
    return {};
  std::vector<std::string> parts;
  for (const ReappearanceChance& each : reappearance.chances)
    parts.push_back(fmt::format("{} by {}", chance_of_100(each.back_by), visit_name(each.day)));
  return fmt::format("Chances of 100 that eggs were back: {}.", fmt::join(parts, ", "));
}

std::string expected_sentence(const EggReappearance& reappearance) {
  if (!reappearance.expected)
    return "What is to be expected of this drench is not known here.";
  const ExpectedWeeks& weeks = *reappearance.expected;
  const std::string expected =
      fmt::format("Expected of {} while it works: {} to {} weeks ({}).", weeks.known_for,
                  weeks.first, weeks.last, whence(weeks.citation));
  const std::string shorter = fmt::format("the chance of less than {} weeks is", weeks.first);
  switch (reappearance.outcome) {
  case ReappearanceOutcome::shorter:
    return fmt::format("{} This was shorter, an early sign that worms outlast the drench: {} at "
                       "least {} of 100.",
                       expected, shorter, chance_of_100(*reappearance.shorter_at_least));
  case ReappearanceOutcome::not_shorter:
    return fmt::format("{} This was not shorter: {} at most {} of 100.", expected, shorter,
                       chance_of_100(*reappearance.shorter_at_most));
  case ReappearanceOutcome::ends_too_early:
    return fmt::format("{} The visits end too early to tell whether it {} shorter: one in week {} "
                       "or later would tell.",
                       expected, is_likely_shorter(reappearance) ? "was surely" : "was",
                       weeks.first - 1);
  default:
    return fmt::format(
        "{} {}: {} {}.", expected,
        is_likely_shorter(reappearance)
            ? "This was likely shorter, an early sign that worms outlast the drench, though these "
              "visits cannot be sure"
            : "Whether it was shorter these visits cannot tell",
        shorter,
        *reappearance.shorter_at_least == *reappearance.shorter_at_most
            ? fmt::format("{} of 100", chance_of_100(*reappearance.shorter_at_least))
            : fmt::format("between {} and {} of 100", chance_of_100(*reappearance.shorter_at_least),
                          chance_of_100(*reappearance.shorter_at_most)));
  }
}

} // namespace

std::string whence(const Citation& citation) {
  return citation.provenance == Provenance::memory ? "from memory"
                                                   : std::string(to_string(citation.provenance));
}

std::string visit_name(const std::optional<int>& day) {
  if (!day)
    return "day not known";
  return *day % days_a_week == 0 ? fmt::format("week {}", *day / days_a_week)
                                 : fmt::format("day {}", *day);
}

std::string judged_on_text(const GroupAnalysis& analysis) {
  std::vector<std::string> others;
  const VisitFall* test = nullptr;
  for (const VisitFall& visit : analysis.course.visits)
    if (visit.is_test)
      test = &visit;
    else
      others.push_back(fmt::format("{}", *visit.day));
  const std::string beside =
      others.empty() ? std::string()
                     : fmt::format(" (there are visits on day {} too)", in_words(others));
  if (test == nullptr)
    return "judged on no visit" + beside;
  if (!analysis.evidence.group.day_after)
    return fmt::format("judged on the samples under eggs_after alone{}", beside);
  return fmt::format("judged on the visit of day {} alone{}", *test->day, beside);
}

std::string not_compared_text(const VisitFall& visit) {
  std::vector<std::string> parts;
  if (visit.missing > 0)
    parts.push_back(fmt::format("{} not sampled", visit.missing));
  if (visit.without_before > 0)
    parts.push_back(fmt::format("{} without a count before", visit.without_before));
  return in_words(parts);
}

std::string visits_table(const std::vector<VisitFall>& visits) {
  const TerminalTable table{
      4, 16, {{8}, {9}, {9}, {9}, {.width = 0, .side = Side::left, .gap = 2}}};
  std::string out =
      table.row("visit", {"animals", "EPG", "EPG", "fall",
                          fmt::format("{:g}% interval", 100 * visits.front().interval.level)}) +
      table.row("", {"", "before", "then"});
  for (const VisitFall& visit : visits)
    out += table.row(visit_name(visit.day) + (visit.is_test ? ", test" : ""),
                     {fmt::format("{}", visit.animals), mean_text(visit.mean_before),
                      mean_text(visit.mean_epg), visit.reduction ? percent(*visit.reduction) : "-",
                      limits_of(visit.interval)});
  for (const VisitFall& visit : visits)
    if (const std::string missing = not_compared_text(visit); !missing.empty())
      out += fmt::format("    {}: {}\n", visit_name(visit.day), missing);
  return out;
}

std::string visits_finding(const GroupAnalysis& analysis) {
  const std::string& name = analysis.evidence.group.name;
  const auto& reappearance = analysis.course.reappearance;
  if (reappearance && reappearance->outcome != ReappearanceOutcome::not_worked_out) {
    if (!reappearance->first_day_back)
      return fmt::format("{}: eggs not back up to {}", name,
                         visit_name(reappearance->last_day_clear));
    return fmt::format("{}: eggs back between {} and {}", name,
                       visit_name(reappearance->last_day_clear),
                       visit_name(reappearance->first_day_back));
  }
  const VisitFall* last = nullptr;
  const VisitFall* test = nullptr;
  for (const VisitFall& visit : analysis.course.visits) {
    if (visit.reduction && visit.day)
      last = &visit;
    if (visit.reduction && visit.is_test)
      test = &visit;
  }
  if (last == nullptr || test == nullptr)
    return fmt::format("{}: its visits after treatment", name);
  if (last == test)
    return fmt::format("{}: a fall of {} at {}", name, percent(*test->reduction),
                       visit_name(test->day));
  return fmt::format("{}: a fall of {} at {}, of {} at {}", name, percent(*test->reduction),
                     visit_name(test->day), percent(*last->reduction), visit_name(last->day));
}

std::vector<std::string> reappearance_sentences(const EggReappearance& reappearance,
                                                const Standing& standing) {
  if (reappearance.outcome == ReappearanceOutcome::not_worked_out)
    return {fmt::format("When eggs came back was not worked out: {}.", reappearance.why_not)};
  std::vector<std::string> sentences{seen_sentence(reappearance)};
  if (std::string chances = chances_sentence(reappearance); !chances.empty())
    sentences.push_back(std::move(chances));
  sentences.push_back(expected_sentence(reappearance));
  std::string granted = "that the true fall only wears off, and that the season changed nothing";
  if (standing.verdict_class != VerdictClass::susceptible)
    granted += fmt::format("; that the drench worked at first, which the test has not shown ({})",
                           to_string(standing.verdict_class));
  sentences.push_back(fmt::format("Taken for granted: {}. This is no reduction test, and no class "
                                  "hangs on it.",
                                  granted));
  return sentences;
}

std::string plain_reappearance(const VisitCourse& course) {
  if (!course.reappearance)
    return {};
  const EggReappearance& reappearance = *course.reappearance;
  if (reappearance.outcome == ReappearanceOutcome::shorter)
    return fmt::format(
        "Eggs were back by {}. A drench of this kind keeps them away for {} weeks or "
        "more while it works: coming back sooner is an early sign that worms outlast "
        "it. Talk to your veterinarian before you use it again.",
        visit_name(reappearance.first_day_back ? reappearance.first_day_back
                                               : std::optional(reappearance.chances.back().day)),
        reappearance.expected->first);
  if (!reappearance.first_day_back)
    return {};
  return fmt::format(
      "At the visit of {} eggs were back{}.", visit_name(reappearance.first_day_back),
      is_likely_shorter(reappearance) ? ", which is likely sooner than a drench of this kind "
                                        "lets them while it works: ask your veterinarian"
                                      : "");
}

} // namespace eggfall
