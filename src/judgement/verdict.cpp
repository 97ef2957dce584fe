#include "eggfall/judgement/verdict.hpp"

#include "base/enum_names.hpp"
#include "eggfall/base/percent.hpp"

#include <fmt/format.h>

#include <array>
#include <limits>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<VerdictClass, all_verdict_classes.size()> verdict_class_names{{
    {VerdictClass::susceptible, "susceptible"},
    {VerdictClass::low_resistant, "low resistant"},
    {VerdictClass::resistant, "resistant"},
    {VerdictClass::suspected, "suspected"},
    {VerdictClass::inconclusive, "inconclusive"},
    {VerdictClass::not_applicable, "not applicable"},
}};

/// "the upper limit, 71.2%, is below the expected 95%"
std::string compared(std::string_view what, const std::string& shown, bool below,
                     std::string_view threshold, double threshold_value) {
  return fmt::format("the {}, {}, is {} the {} {:g}%", what, shown, below ? "below" : "at or above",
                     threshold, 100 * threshold_value);
}

std::string two_one_sided_reason(const CutOff& cut_off, const Interval& interval) {
  const double low = *interval.lower;
  const double high = *interval.upper;
  const double lower = *cut_off.lower;
  return compared("upper limit", percent_of_limit_beside(high, cut_off.expected),
                  high < cut_off.expected, "expected", cut_off.expected) +
         ", and " +
         compared("lower limit", percent_beside(low, lower), low < lower, "lower threshold", lower);
}

std::string reduction_and_lower_limit_reason(const CutOff& cut_off, double reduction,
                                             const Interval& interval) {
  const bool low_reduction = reduction < cut_off.expected;
  const bool low_limit = *interval.lower < *cut_off.lower;
  return compared("fall", percent_beside(reduction, cut_off.expected), low_reduction, "cut-off",
                  cut_off.expected) +
         ", and " +
         compared("lower limit", percent_beside(*interval.lower, *cut_off.lower), low_limit,
                  "cut-off", *cut_off.lower);
}

std::string reduction_alone_reason(const CutOff& cut_off, double reduction) {
  const bool low = reduction < cut_off.expected;
  return compared("fall", percent_beside(reduction, cut_off.expected), low, "cut-off",
                  cut_off.expected) +
         "; this rule takes no account of chance";
}

/// The class from a single limit. The other is put where it says nothing: the lower at minus
/// infinity, as if the drench might do nothing, or the upper at 100%, as if it might kill all.
VerdictClass verdict_class_by_one_limit(const CutOff& cut_off, const Interval& interval) {
  constexpr double worst = -std::numeric_limits<double>::infinity();
  constexpr double best = 1;
  return two_one_sided(interval.lower.value_or(worst), interval.upper.value_or(best),
                       *cut_off.lower, cut_off.expected);
}

std::string one_limit_reason(const CutOff& cut_off, const Interval& interval) {
  const std::string known =
      interval.lower
          ? compared("lower limit", percent_beside(*interval.lower, *cut_off.lower),
                     *interval.lower < *cut_off.lower, "lower threshold", *cut_off.lower)
          : compared("upper limit", percent_of_limit_beside(*interval.upper, cut_off.expected),
                     *interval.upper < cut_off.expected, "expected", cut_off.expected);
  return fmt::format("{}, and there is no {} limit: {}", known, interval.lower ? "upper" : "lower",
                     interval.why_not);
}

} // namespace

std::string_view to_string(VerdictClass verdict_class) {
  return name_of(verdict_class_names, verdict_class, "a verdict class");
}

std::optional<VerdictClass> parse_verdict_class(std::string_view name) {
  return value_named(verdict_class_names, name);
}

bool finds_resistance(VerdictClass verdict_class) {
  return verdict_class == VerdictClass::resistant || verdict_class == VerdictClass::low_resistant ||
         verdict_class == VerdictClass::suspected;
}

std::optional<double> lowest_threshold(const Verdict& verdict) {
  return verdict.lower ? verdict.lower : verdict.expected;
}

VerdictClass two_one_sided(double lower_limit, double upper_limit, double lower_threshold,
                           double expected) {
  const bool good = lower_limit >= lower_threshold;
  const bool poor = upper_limit < expected;
  if (good)
    return poor ? VerdictClass::low_resistant : VerdictClass::susceptible;
  return poor ? VerdictClass::resistant : VerdictClass::inconclusive;
}

VerdictClass verdict_class_by(Rule rule, const CutOff& cut_off, double reduction,
                              const Interval& interval) {
  const bool low_reduction = reduction < cut_off.expected;
  if (rule == Rule::two_one_sided)
    return two_one_sided(*interval.lower, *interval.upper, *cut_off.lower, cut_off.expected);
  if (rule == Rule::reduction_alone)
    return low_reduction ? VerdictClass::resistant : VerdictClass::susceptible;
  const bool low_limit = *interval.lower < *cut_off.lower;
  if (low_reduction && low_limit)
    return VerdictClass::resistant;
  return low_reduction || low_limit ? VerdictClass::suspected : VerdictClass::susceptible;
}

Verdict classify(const Criteria& criteria, const CutOffChoice& choice,
                 const std::optional<double>& reduction, const Interval& interval) {
  Verdict verdict;
  verdict.criteria = criteria.name;
  verdict.criteria_title = criteria.title;
  verdict.citation = criteria.citation;
  const bool uses_interval = criteria.rule != Rule::reduction_alone;
  if (choice.cut_off == nullptr) {
    verdict.reason = choice.why_not;
    verdict.missing_column = choice.missing_column;
    return verdict;
  }
  const CutOff& cut_off = *choice.cut_off;
  verdict.citation = cut_off.citation;
  verdict.expected = cut_off.expected;
  verdict.lower = cut_off.lower;
  verdict.reduction = reduction;
  if (uses_interval)
    verdict.interval = interval;
  if (criteria.rule == Rule::two_one_sided && interval.has_one_limit()) {
    verdict.verdict_class = verdict_class_by_one_limit(cut_off, interval);
    verdict.reason = one_limit_reason(cut_off, interval);
    return verdict;
  }
  if (!reduction) {
    verdict.reason = "there is no fall to judge";
    return verdict;
  }
  if (uses_interval && !interval.usable()) {
    verdict.reason = fmt::format("it needs an interval ({}), and there is none: {}",
                                 title(interval.method), interval.why_not);
    return verdict;
  }
  verdict.verdict_class = verdict_class_by(criteria.rule, cut_off, *reduction, interval);
  switch (criteria.rule) {
  case Rule::two_one_sided:
    verdict.reason = two_one_sided_reason(cut_off, interval);
    break;
  case Rule::reduction_and_lower_limit:
    verdict.reason = reduction_and_lower_limit_reason(cut_off, *reduction, interval);
    break;
  case Rule::reduction_alone:
    verdict.reason = reduction_alone_reason(cut_off, *reduction);
    break;
  }
  return verdict;
}

} // namespace eggfall
