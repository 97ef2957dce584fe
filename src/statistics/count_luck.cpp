#include "statistics/count_luck.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/rising_root.hpp"

#include <boost/math/constants/constants.hpp>
#include <boost/math/special_functions/beta.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <map>
#include <utility>

namespace eggfall {
namespace {

/// Boost.Math in double, not long double: faster, and far more precise than any use of a limit.
using WithoutPromotion =
    boost::math::policies::policy<boost::math::policies::promote_double<false>>;

double logistic(double x) {
  return 1 / (1 + std::exp(-x));
}

double eggs_of(const std::vector<Count>& counts) {
  return static_cast<double>(totals_of(counts).eggs);
}

} // namespace

SummedEggs SummedEggs::of_pairs(const Arm& arm) {
  if (arm.above.size() != arm.below.size())
    throw CalculationError("paired counts with sides of different length");
  SummedEggs pooled;
  pooled.above_ = eggs_of(arm.above);
  pooled.below_ = eggs_of(arm.below);
  std::map<double, double> eggs; // by ratio of factors
  for (std::size_t i = 0; i < arm.above.size(); ++i)
    if (const double both = static_cast<double>(arm.above[i].eggs.value()) +
                            static_cast<double>(arm.below[i].eggs.value());
        both > 0)
      eggs[arm.below[i].factor.value() / arm.above[i].factor.value()] += both;
  for (const auto& [of_factors, both] : eggs)
    pooled.parts_.push_back({std::log(of_factors), both});
  return pooled;
}

SummedEggs SummedEggs::of_groups(const std::vector<Count>& above, const std::vector<Count>& below) {
  SummedEggs pooled;
  pooled.above_ = eggs_of(above);
  pooled.below_ = eggs_of(below);
  if (pooled.above_ + pooled.below_ > 0)
    pooled.parts_ = {
        {std::log(exposure_of(above) / exposure_of(below)), pooled.above_ + pooled.below_}};
  return pooled;
}

double SummedEggs::probability_below(double log_ratio) const {
  if (parts_.empty())
    return 0.5;
  return parts_.size() == 1 ? binomial(log_ratio) : sum_of_binomials(log_ratio);
}

double SummedEggs::binomial(double log_ratio) const {
  // P(X >= k) is an incomplete beta function of p; where p is near 1 it would lose the digits that
  // 1 - p keeps.
  const double logit = log_ratio + parts_.front().shift;
  const auto tail = [&](double a, double b) {
    return logit <= 0 ? boost::math::ibeta(a, b, logistic(logit), WithoutPromotion())
                      : boost::math::ibetac(b, a, logistic(-logit), WithoutPromotion());
  };
  const double more = below_ == 0 ? 0 : tail(above_ + 1, below_);
  const double as_many = above_ == 0 ? 1 : tail(above_, below_ + 1);
  return (more + as_many) / 2;
}

double SummedEggs::sum_of_binomials(double log_ratio) const {
  // Of each part the rarer of the two outcomes, an egg above the bar or one below it, is followed:
  // its number is small, so that sums over many eggs keep their digits.
  struct Rare {
    double eggs = 0;
    double p = 0;    ///< Of the rarer outcome.
    double sign = 1; ///< -1 if that is an egg below the bar.
  };
  std::vector<Rare> rare;
  double away = above_; // B - E[X]
  double variance = 0;
  for (const Part& part : parts_) {
    const double logit = log_ratio + part.shift;
    const Rare own{part.eggs, logistic(-std::abs(logit)), logit > 0 ? -1.0 : 1.0};
    away -= (own.sign < 0 ? own.eggs : 0) + own.sign * own.eggs * own.p;
    variance += own.eggs * own.p * (1 - own.p);
    rare.push_back(own);
  }
  // Bernstein's inequality: X lies further than t from its mean with a chance of at most
  // 2 exp(-t^2 / 2(variance + t/3)), which is below 4e-14 at this t.
  const double reach = 22 + 8 * std::sqrt(variance);
  if (std::abs(away) > reach)
    return away > 0 ? 0 : 1;
  const auto half_nodes = static_cast<std::size_t>(std::ceil((std::abs(away) + reach) / 2));
  const double step = boost::math::constants::pi<double>() / static_cast<double>(half_nodes);
  constexpr double negligible = -40; // in log |E[exp(i t X)]|, which falls all the way to t = pi
  double sum = 0;
  for (std::size_t node = 0; node < half_nodes; ++node) {
    const double t = (static_cast<double>(node) + 0.5) * step;
    const double half_sine = std::sin(t / 2);
    double log_size = 0;
    double angle = -away * t;
    for (const Rare& own : rare) {
      const double q = 1 - own.p;
      log_size += own.eggs / 2 * std::log1p(-4 * own.p * q * half_sine * half_sine);
      angle += own.sign * own.eggs *
               (std::atan2(own.p * std::sin(t), q + own.p * std::cos(t)) - own.p * t);
    }
    if (log_size < negligible)
      break;
    sum += std::exp(log_size) * std::sin(angle) / std::tan(t / 2);
  }
  return std::clamp(0.5 + sum / (2 * static_cast<double>(half_nodes)), 0.0, 1.0);
}

double SummedEggs::quantile(double probability) const {
  return solve_rising([&](double x) { return probability_below(x); }, probability, middle(),
                      spread());
}

double SummedEggs::middle() const {
  double shifts = 0;
  for (const Part& part : parts_)
    shifts += part.shift * part.eggs;
  return std::log((above_ + 0.5) / (below_ + 0.5)) -
         (parts_.empty() ? 0 : shifts / (above_ + below_));
}

double SummedEggs::spread() const {
  return std::sqrt(1 / (above_ + 0.5) + 1 / (below_ + 0.5));
}

CountLuck::CountLuck(const Comparison& comparison)
    : eggs_(pairs_animals(comparison.design)
                ? SummedEggs::of_pairs(comparison.arms.front())
                : SummedEggs::of_groups(comparison.arms.front().above,
                                        comparison.arms.back().below)) {
  if (comparison.design == Design::controlled) {
    SummedEggs control = SummedEggs::of_pairs(comparison.arms.back());
    if (control.spread() > eggs_.spread())
      std::swap(control, eggs_);
    convolve_with(control);
    return;
  }
  least_ = eggs_.least();
  most_ = eggs_.most();
  middle_ = eggs_.middle();
  spread_ = eggs_.spread();
}

void CountLuck::convolve_with(const SummedEggs& other) {
  constexpr int nodes_a_side = 16;
  double weights = 0;
  for (int node = -nodes_a_side; node <= nodes_a_side; ++node) {
    const double u = logistic(node);
    const double weight = u * logistic(-node);
    weights += weight;
    shifts_.push_back({other.quantile(other.least() + (other.most() - other.least()) * u), weight});
  }
  const double finite = other.most() - other.least();
  for (Shift& shift : shifts_)
    shift.probability *= finite / weights;
  // The convolution takes F_1(eta - Q_2) also where Q_2 is infinite: where it is minus infinity
  // that is most() of this group, and where it is plus infinity least(). A sum of two opposite
  // infinities so goes with this group's.
  at_least_ = other.least() * eggs_.most() + (1 - other.most()) * eggs_.least();
  least_ = at_least_ + finite * eggs_.least();
  most_ = at_least_ + finite * eggs_.most();
  middle_ = eggs_.middle() + other.middle();
  spread_ = std::hypot(eggs_.spread(), other.spread());
}

double CountLuck::probability_below(double log_ratio) const {
  if (shifts_.empty())
    return eggs_.probability_below(log_ratio);
  double probability = at_least_;
  for (const Shift& shift : shifts_)
    probability += shift.probability * eggs_.probability_below(log_ratio - shift.log_ratio);
  return probability;
}

double CountLuck::find_quantile(double p) const {
  if (p <= least_ && least_ > 0)
    return -std::numeric_limits<double>::infinity();
  if (p >= most_ && most_ < 1)
    return std::numeric_limits<double>::infinity();
  return solve_rising([&](double x) { return probability_below(x); }, p, middle_, spread_);
}

OrReason<RatioLimits> CountLuck::limits(double level) const {
  check_level(level);
  const double tail = (1 - level) / 2;
  if (1 - most_ >= tail)
    return WhyNot{"no egg was counted to compare with"};
  return RatioLimits{std::exp(quantile(tail)), std::exp(quantile(1 - tail))};
}

} // namespace eggfall
