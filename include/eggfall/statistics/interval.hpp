#pragma once

#include "eggfall/base/or_reason.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// Ways to put limits on a reduction.
enum class Method {
  guarded_posterior, ///< A posterior's limits, moved out to those of the bootstrap and of the luck
                     ///< of counting where these lie outside.
  paired_posterior,
  two_group_posterior,
  controlled_posterior,
  bootstrap_percentile,
  bootstrap_bca,
  log_ratio_1992,
  paired_log_ratio,
  egg_totals_jeffreys,
  egg_totals_exact,
};

inline constexpr std::array all_methods{Method::guarded_posterior,    Method::paired_posterior,
                                        Method::two_group_posterior,  Method::controlled_posterior,
                                        Method::bootstrap_percentile, Method::bootstrap_bca,
                                        Method::log_ratio_1992,       Method::paired_log_ratio,
                                        Method::egg_totals_jeffreys,  Method::egg_totals_exact};

/// The name in JSON and CSV, such as "bootstrap-bca".
std::string_view to_string(Method method);

/// The method of a name, if there is one.
std::optional<Method> parse_method(std::string_view name);

/// The name for people, such as "bootstrap, BCa".
std::string_view title(Method method);

/// Two-sided limits for a ratio of means rho (0 up to infinity).
struct RatioLimits {
  double lower = 0;
  double upper = 0;
  /// Quadrature error of the worse limit; empty if it comes from no quadrature.
  std::optional<double> error = std::nullopt;
};

/// Limits for a reduction, as proportions (0.95 is 95%; below 0 is a rise). There may be one limit
/// alone, where something is missing that would set the other; the one that is given holds all the
/// same.
struct Interval {
  Method method = Method::guarded_posterior;
  double level = 0.90; ///< Two-sided, in (0, 1).
  std::optional<double> lower;
  std::optional<double> upper;
  std::string why_not; ///< Why there are no two limits; empty if there are.
  /// Quadrature error of the worse limit; empty if it comes from no quadrature.
  std::optional<double> error;

  bool usable() const { return lower.has_value() && upper.has_value(); }

  /// Whether one of the two limits is known, and the other is not.
  bool has_one_limit() const { return lower.has_value() != upper.has_value(); }
};

/// Whether an interval held a truth that is known.
enum class Outcome {
  held,        ///< lower limit <= truth <= upper limit.
  truth_above, ///< The upper limit was below the truth.
  truth_below, ///< The lower limit was above the truth.
  unusable,    ///< There are no limits.
};

/// Compares an interval with a true reduction, a proportion. A truth counts as held up to 1e-12
/// beyond a limit, since a limit of 100% is rounded.
Outcome outcome(const Interval& interval, double truth);

/// The interval of the reduction 1 - rho, whose lower limit comes from the upper limit of rho. It
/// has no limits, but a reason, where `rho` has none, or where the upper limit of rho is NaN or
/// exceeds 1e14, the ratio of the largest EPG that can be typed in to the smallest.
Interval reduction_interval(Method method, double level, const OrReason<RatioLimits>& rho);

/// @throws InputError unless 0 < level < 1.
void check_level(double level);

} // namespace eggfall
