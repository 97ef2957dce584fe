#include "eggfall/statistics/worm_share.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace eggfall {
namespace {

/// About the standard deviation of a density: half the distance of the limits that hold 68% of it,
/// which is exact if it is normal.
double standard_deviation(const LogRatioDensity& density) {
  constexpr double two_sided = 0.6826894921370859;
  const RatioLimits limits = density.limits(two_sided);
  return (std::log(limits.upper) - std::log(limits.lower)) / 2;
}

/// A number of larvae that may have been found, and the logarithm of its binomial coefficient.
struct PossibleNumber {
  double larvae;
  double log_ways;
};

double log_ways(double larvae, double total) {
  return std::lgamma(total + 1) - std::lgamma(larvae + 1) - std::lgamma(total - larvae + 1);
}

/// All numbers that a share leaves open; the one number if it was counted.
std::vector<PossibleNumber> possible_numbers(const WormShare& share) {
  if (!share.open)
    return {{share.larvae, 0}};
  const auto& [least, most] = share.open->range;
  std::vector<PossibleNumber> numbers;
  constexpr double most_numbers = 500; // reached where each percent is many larvae
  constexpr double step_of_unknown = 0.1;
  const bool whole = share.open->number_told;
  const double pieces = std::clamp(
      whole ? most - least + 1 : std::ceil((most - least) / step_of_unknown), 1.0, most_numbers);
  for (double i = 0; i < pieces; ++i) {
    const double larvae = whole ? least + (most - least) * i / std::max(1.0, pieces - 1)
                                : least + (most - least) * (i + 0.5) / pieces;
    numbers.push_back({larvae, log_ways(larvae, share.total)});
  }
  return numbers;
}

/// The posterior of z = logit(share), but for a constant: of x larvae among n it is that of a
/// Beta(a, b), a = x + 1/2, b = n - x + 1/2, with the log density a z - (a + b) softplus(z), smooth
/// and with exponential tails even where a share is 0 or 1.
class LogitShare {
public:
  explicit LogitShare(const WormShare& share)
      : numbers_(possible_numbers(share)), both_(share.total + 1) {}

  double log_density(double z) const {
    double largest = -std::numeric_limits<double>::infinity();
    for (const PossibleNumber& number : numbers_)
      largest = std::max(largest, exponent(number, z));
    if (numbers_.size() == 1)
      return largest - both_ * softplus(z);
    double sum = 0;
    for (const PossibleNumber& number : numbers_)
      sum += std::exp(exponent(number, z) - largest);
    return largest + std::log(sum) - both_ * softplus(z);
  }

private:
  static double exponent(const PossibleNumber& number, double z) {
    return number.log_ways + (number.larvae + 0.5) * z;
  }

  std::vector<PossibleNumber> numbers_;
  double both_; ///< a + b, the same for all numbers.
};

/// The share's posterior as weighted values of sign x log(share). They are close enough together to
/// be convolved with a density of the standard deviation `sd` without leaving bumps.
std::vector<WeightedShift> log_shares(const WormShare& share, double sign, double sd) {
  if (share.larvae > share.total ||
      (share.open && (share.open->range.most > share.total ||
                      !(share.open->range.least <= share.open->range.most))))
    throw CalculationError("a culture with more larvae of one worm than larvae");
  const double a = share.larvae + 0.5;
  const double b = share.total - share.larvae + 0.5;
  const LogitShare posterior(share);
  const auto log_density = [&](double z) { return posterior.log_density(z); };
  const double mode = std::log(a) - std::log(b);
  const double highest = log_density(mode);
  const double own_sd = std::sqrt(1 / a + 1 / b);
  // The integrand of the convolution is the product of the share's density and the other one, whose
  // standard deviation is about 1/sqrt(1/own_sd^2 + 1/sd^2). At steps of half of that the trapezoid
  // rule errs by e^-(2 pi^2/0.5^2).
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
