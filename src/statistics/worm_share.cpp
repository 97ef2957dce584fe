#include "eggfall/statistics/worm_share.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// About a standard deviation, from the limits that hold it in a normal density.
double standard_deviation(const LogRatioDensity& density) {
  constexpr double two_sided = 0.6826894921370859;
  const RatioLimits limits = density.limits(two_sided);
  return (std::log(limits.upper) - std::log(limits.lower)) / 2;
}

/// The share's Beta(a, b) posterior as values of `sign` log(share), close enough together for a
/// density of the given standard deviation. z = logit(share) has the log density
/// a z - (a + b) softplus(z), smooth and with exponential tails even where a share is 0 or 1.
std::vector<WeightedShift> log_shares(const WormShare& share, double sign, double sd) {
  if (share.larvae > share.total)
    throw CalculationError("a culture with more larvae of one worm than larvae");
  const double a = static_cast<double>(share.larvae) + 0.5;
  const double b = static_cast<double>(share.total - share.larvae) + 0.5;
  const auto log_density = [&](double z) { return a * z - (a + b) * softplus(z); };
  const double mode = std::log(a) - std::log(b);
  const double highest = log_density(mode);
  const double own_sd = std::sqrt(1 / a + 1 / b);
  // The product of both is at least this wide; the trapezoid rule then errs by e^-(2 pi^2/0.5^2).
  constexpr double widest_step = 0.3;
  const double step = std::min(widest_step, 0.5 / std::sqrt(1 / (own_sd * own_sd) + 1 / (sd * sd)));
  constexpr double negligible = 20;
  std::vector<WeightedShift> shifts;
  const auto add = [&](int i) {
    const double z = mode + step * i;
    const double weight = std::exp(log_density(z) - highest);
    shifts.push_back({-sign * softplus(-z), weight, i % 2 == 0 ? weight : 0});
    return log_density(z) > highest - negligible;
  };
  add(0);
  for (const int direction : {-1, 1})
    for (int i = direction; add(i); i += direction)
      continue;
  return shifts;
}

} // namespace

LogRatioDensity of_worm(const LogRatioDensity& all, const std::vector<WormShare>& above,
                        const std::vector<WormShare>& below) {
  const double sd = standard_deviation(all);
  LogRatioDensity result = all;
  for (const WormShare& share : above)
    result = shifted(result, log_shares(share, 1, sd));
  for (const WormShare& share : below)
    result = shifted(result, log_shares(share, -1, sd));
  return result;
}

} // namespace eggfall
