#include "eggfall/statistics/interval.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/trial/egg_count.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>

namespace eggfall {
namespace {

struct MethodName {
  Method method;
  std::string_view name;
  std::string_view title;
};

constexpr std::array<MethodName, 10> method_names{{
    {Method::guarded_posterior, "guarded-posterior", "posterior, guarded"},
    {Method::paired_posterior, "paired-posterior", "posterior, paired"},
    {Method::two_group_posterior, "two-group-posterior", "posterior, two groups"},
    {Method::controlled_posterior, "controlled-posterior", "posterior, controlled"},
    {Method::bootstrap_percentile, "bootstrap-percentile", "bootstrap, percentile"},
    {Method::bootstrap_bca, "bootstrap-bca", "bootstrap, BCa"},
    {Method::log_ratio_1992, "log-ratio-1992", "log ratio, 1992"},
    {Method::paired_log_ratio, "paired-log-ratio", "log ratio, paired"},
    {Method::egg_totals_jeffreys, "pooled-count-jeffreys", "pooled count, Jeffreys"},
    {Method::egg_totals_exact, "pooled-count-exact", "pooled count, exact"},
}};

const MethodName& row(Method method) {
  for (const MethodName& candidate : method_names)
    if (candidate.method == method)
      return candidate;
  throw CalculationError("a method without a name");
}

/// Two EPG above zero that can be typed in lie no further apart. A quantile of so few animals may
/// reach further, to what is no number at all.
constexpr double largest_ratio =
    EggsSeen::largest * MultiplicationFactor::largest / MultiplicationFactor::smallest;

} // namespace

std::string_view to_string(Method method) {
  return row(method).name;
}

std::optional<Method> parse_method(std::string_view name) {
  for (const MethodName& candidate : method_names)
    if (candidate.name == name)
      return candidate.method;
  return std::nullopt;
}

std::string_view title(Method method) {
  return row(method).title;
}

Outcome outcome(const Interval& interval, double truth) {
  if (!interval.usable())
    return Outcome::unusable;
  // A truth of 100% is held by a limit that rounds to it.
  constexpr double rounding = 1e-12;
  if (*interval.upper < truth - rounding)
    return Outcome::truth_above;
  return *interval.lower > truth + rounding ? Outcome::truth_below : Outcome::held;
}

Interval reduction_interval(Method method, double level, const OrReason<RatioLimits>& rho) {
  Interval interval;
  interval.method = method;
  interval.level = level;
  interval.why_not = rho.why_not();
  if (rho && !(rho->upper <= largest_ratio)) {
    interval.why_not = "so few animals that it would reach beyond any counts there can be";
  } else if (rho) {
    interval.lower = 1 - rho->upper;
    interval.upper = 1 - rho->lower;
    interval.error = rho->error;
  }
  return interval;
}

void check_level(double level) {
  if (!(level > 0 && level < 1))
    throw InputError(fmt::format("a confidence level of {}; expected more than 0 and less than 1 "
                                 "(0.90 is 90%)",
                                 level));
}

} // namespace eggfall
