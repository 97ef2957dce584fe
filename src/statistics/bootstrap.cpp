#include "statistics/bootstrap.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/rising_root.hpp"
#include "statistics/saddlepoint.hpp"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <utility>

namespace eggfall {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double most_undefined = 0.01;
/// Values this close, relatively, are the same but for rounding.
constexpr double rounding = 1e-12;

/// Boost.Math in double, not long double: faster, and far more precise than a limit need be.
using ForLimits = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
const boost::math::normal_distribution<double, ForLimits> standard_normal;

double normal_cdf(double z) {
  return boost::math::cdf(standard_normal, z);
}

double normal_quantile(double p) {
  return boost::math::quantile(standard_normal, p);
}

/// Each value times its animal's weight. A sample without values on this side has the mean 1 there,
/// so its weights alone are given.
std::vector<double> weighted(const std::vector<double>& values, const RatioSample& sample) {
  std::vector<double> result =
      sample.weights.empty() ? std::vector<double>(sample.animals(), 1.0) : sample.weights;
  if (!values.empty())
    std::ranges::transform(result, values, result.begin(), std::multiplies{});
  return result;
}

double sum_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

std::vector<double> by_number(std::vector<double> values) {
  const auto n = static_cast<double>(values.size());
  for (double& value : values)
    value /= n;
  return values;
}

/// The chance that `size` draws from `size` values, with replacement, all fall on `some` of them.
double all_among(double some, std::size_t size) {
  return std::pow(some / static_cast<double>(size), static_cast<double>(size));
}

double zeros_in(const std::vector<double>& values) {
  return static_cast<double>(std::ranges::count(values, 0.0));
}

/// above - r below, exactly 0 where they differ by rounding alone.
double excess(double above, double r, double below) {
  const double x = above - r * below;
  return std::abs(x) <= rounding * std::max(above, r * below) ? 0 : x;
}

bool same_ratio(double low, double high) {
  return std::isfinite(high) && high - low <= rounding * high;
}

bool weighs_alike(const RatioSample& sample) {
  return std::ranges::adjacent_find(sample.weights, std::ranges::not_equal_to{}) ==
         sample.weights.end();
}

/// The standard deviation that relative influences give the logarithm of a ratio.
double spread_of(const std::vector<std::vector<double>>& influences) {
  double squares = 0;
  for (const std::vector<double>& influence : influences)
    for (const double u : influence) {
      const double l = u / static_cast<double>(influence.size());
      squares += l * l;
    }
  return std::sqrt(squares);
}

/// The law of the product of all these independent ratios. A single one keeps its exact law, since
/// a grid is needed for convolution only.
std::shared_ptr<const EtaLaw> law_of_product(const std::vector<LinearRatio>& ratios) {
  if (ratios.size() == 1)
    return std::make_shared<const LinearRatio>(ratios.front());
  LogRatioDensity product = ratios.front().on_a_grid();
  for (std::size_t i = 1; i < ratios.size(); ++i)
    product = sum(product, ratios[i].on_a_grid());
  return std::make_shared<const DensityLaw>(std::move(product));
}

std::vector<LinearRatio> linear_ratios(const RatioData& data) {
  std::vector<LinearRatio> ratios;
  std::vector<const RatioSample*> above;
  std::vector<const RatioSample*> below;
  for (const RatioSample& sample : data.samples)
    if (!sample.above.empty() && !sample.below.empty())
      ratios.emplace_back(sample);
    else
      (sample.below.empty() ? above : below).push_back(&sample);
  while (!above.empty() && !below.empty() && weighs_alike(*above.back()) &&
         weighs_alike(*below.back())) {
    ratios.emplace_back(*above.back(), *below.back());
    above.pop_back();
    below.pop_back();
  }
  for (const auto* samples : {&above, &below})
    for (const RatioSample* sample : *samples)
      ratios.emplace_back(*sample);
  return ratios;
}

} // namespace

LinearRatio::LinearRatio(const RatioSample& sample)
    : above_(weighted(sample.above, sample)), below_(weighted(sample.below, sample)), paired_(true),
      estimate_(sum_of(above_) / sum_of(below_)) {
  double both_zero = 0;
  lowest_ = infinite;
  for (std::size_t i = 0; i < above_.size(); ++i) {
    if (above_[i] == 0 && below_[i] == 0) {
      both_zero += 1;
      continue;
    }
    const double own = below_[i] == 0 ? infinite : above_[i] / below_[i];
    lowest_ = std::min(lowest_, own);
    highest_ = std::max(highest_, own);
  }
  spread_ = spread_of(relative_influence({{sample}}));
  undefined_ = all_among(both_zero, above_.size());
  at_zero_ = (all_among(zeros_in(above_), above_.size()) - undefined_) / (1 - undefined_);
  at_infinity_ = (all_among(zeros_in(below_), below_.size()) - undefined_) / (1 - undefined_);
}

LinearRatio::LinearRatio(const RatioSample& above, const RatioSample& below)
    : above_(by_number(above.above)), below_(by_number(below.below)), paired_(false),
      estimate_(sum_of(above_) / sum_of(below_)) {
  const auto [least_above, most_above] = std::ranges::minmax(above.above);
  const auto [least_below, most_below] = std::ranges::minmax(below.below);
  lowest_ = most_below > 0 ? least_above / most_below : infinite;
  highest_ = least_below > 0 ? most_above / least_below : infinite;
  spread_ = spread_of(relative_influence({{above, below}}));
  const double none_above = all_among(zeros_in(above_), above_.size());
  const double none_below = all_among(zeros_in(below_), below_.size());
  undefined_ = none_above * none_below;
  at_zero_ = none_above * (1 - none_below) / (1 - undefined_);
  at_infinity_ = none_below * (1 - none_above) / (1 - undefined_);
}

double LinearRatio::probability_below(double eta) const {
  const double r = std::exp(eta);
  std::vector<DrawnValues> groups(paired_ ? 1 : 2);
  if (paired_) {
    for (std::size_t i = 0; i < above_.size(); ++i)
      groups.front().push_back(excess(above_[i], r, below_[i]));
  } else {
    groups.front() = above_;
    for (const double value : below_)
      groups.back().push_back(-r * value);
  }
  const double of_all = probability_of_sum_below_zero(groups);
  // A resample without any egg is a sum of 0, of which `of_all` counts one half. It has no ratio,
  // so this half is taken out again.
  return std::clamp((of_all - undefined_ / 2) / (1 - undefined_), least(), most());
}

double LinearRatio::find_quantile(double p) const {
  if (p <= least() && least() > 0)
    return -infinite;
  if (p >= most() && most() < 1)
    return infinite;
  if (same_ratio(lowest_, highest_))
    return std::log(estimate_);
  // The root is sought in Phi^-1(F*), which is nearly a straight line in eta, and so soon found.
  const auto deviate = [&](double eta) {
    constexpr double certain = 1e-15;
    return normal_quantile(std::clamp(probability_below(eta), certain, 1 - certain));
  };
  const double z = normal_quantile(p);
  constexpr double close_enough = 1e-10;
  constexpr double least_spread = 1e-3;
  return std::clamp(solve_rising(deviate, z, std::log(estimate_) + z * spread_,
                                 std::max(spread_, least_spread) / 4, close_enough),
                    std::log(lowest_), std::log(highest_));
}

Bootstrap::Bootstrap(const RatioData& data) : estimate_(ratio(data)) {
  set_law(data);
  why_not_ = obstacle(data);
  if (why_not_.empty())
    set_influence(data);
}

void Bootstrap::set_law(const RatioData& data) {
  if (!(estimate_ > 0) || !std::isfinite(estimate_))
    return;
  const std::vector<LinearRatio> ratios = linear_ratios(data);
  // A product has a value where no factor is 0/0 and no factor that is 0 meets one that is
  // infinite. So either none is 0 or none is infinite; where both are true it would be counted
  // twice, and `neither` is taken off.
  double defined = 1;
  double none_zero = 1;
  double none_infinite = 1;
  double neither = 1;
  for (const LinearRatio& each : ratios) {
    lowest_ *= each.lowest();
    highest_ *= each.highest();
    defined *= 1 - each.undefined();
    none_zero *= 1 - each.least();
    none_infinite *= each.most();
    neither *= each.most() - each.least();
  }
  undefined_ = 1 - defined * (none_zero + none_infinite - neither);
  if (undefined_ <= most_undefined && !same_ratio(lowest_, highest_))
    law_ = law_of_product(ratios);
}

std::string Bootstrap::obstacle(const RatioData& data) const {
  for (const RatioSample& animals : data.samples)
    if (animals.animals() < 2)
      return "it needs at least two animals in each group";
  if (!std::isfinite(estimate_))
    return "one of the means it divides by is zero";
  if (estimate_ == 0)
    return "no egg was found after treatment, so every resample gives the same 100%";
  if (undefined_ > most_undefined)
    return "so many animals have zero counts that many resamples hold no egg at all";
  if (same_ratio(lowest_, highest_))
    return "every resample gives the same reduction, so it has no width";
  return {};
}

void Bootstrap::set_influence(const RatioData& data) {
  double squares = 0;
  double cubes = 0;
  double by_freedom = 0;
  for (const std::vector<double>& influence : relative_influence(data)) {
    const auto n = static_cast<double>(influence.size());
    double own = 0;
    for (const double u : influence) {
      own += (u / n) * (u / n);
      cubes += (u / n) * (u / n) * (u / n);
    }
    squares += own;
    by_freedom += own * own / (n - 1);
  }
  acceleration_ = cubes / (6 * std::pow(squares, 1.5));
  degrees_of_freedom_ = squares * squares / by_freedom;
  const double share = probability_below(std::log(estimate_));
  if (share > 0 && share < 1)
    bias_correction_ = normal_quantile(share);
  else
    why_not_ = "all resamples lie on one side of the estimate";
}

double Bootstrap::quantile(double p) const {
  if (p <= 0)
    return std::log(lowest_);
  return p >= 1 ? std::log(highest_) : law_->quantile(p);
}

OrReason<RatioLimits> Bootstrap::limits_at(double p_low, double p_high) const {
  if (!(p_low > 0 && p_high < 1))
    return WhyNot{"its correction reaches beyond the resamples"};
  const double high = std::exp(quantile(p_high));
  if (!std::isfinite(high))
    return WhyNot{"so many animals have zero counts that some resamples cannot be divided"};
  return RatioLimits{std::exp(quantile(p_low)), high};
}

OrReason<RatioLimits> Bootstrap::percentile_limits(double level) const {
  check_level(level);
  if (!why_not_.empty())
    return WhyNot{why_not_};
  return limits_at((1 - level) / 2, (1 + level) / 2);
}

double Bootstrap::corrected(double z) const {
  const double from_bias = bias_correction_ + z;
  const double stretch = 1 - acceleration_ * from_bias;
  if (!(stretch > 0))
    return from_bias > 0 ? 1 : 0;
  return normal_cdf(bias_correction_ + from_bias / stretch);
}

OrReason<RatioLimits> Bootstrap::bca_limits(double level) const {
  check_level(level);
  if (!why_not_.empty())
    return WhyNot{why_not_};
  return limits_at(corrected(normal_quantile((1 - level) / 2)),
                   corrected(normal_quantile((1 + level) / 2)));
}

double Bootstrap::uncorrected(double probability) const {
  if (!(probability > 0 && probability < 1))
    return probability > 0 ? infinite : -infinite;
  const double v = normal_quantile(probability) - bias_correction_;
  const double stretch = 1 + acceleration_ * v;
  if (!(stretch > 0))
    return acceleration_ > 0 ? -infinite : infinite;
  return v / stretch - bias_correction_;
}

AnimalsLaw::AnimalsLaw(Bootstrap bootstrap, double highest)
    : bootstrap_(std::move(bootstrap)), highest_(highest) {
  if (!bootstrap_.why_not().empty())
    throw CalculationError("a law of animals without a bootstrap");
  least_ = bootstrap_.least() > 0 ? student(bootstrap_.least()) : 0;
}

double AnimalsLaw::student(double resampled) const {
  const double z = bootstrap_.uncorrected(resampled);
  if (!std::isfinite(z))
    return z > 0 ? 1 : 0;
  return boost::math::cdf(
      boost::math::students_t_distribution<double, ForLimits>(bootstrap_.degrees_of_freedom()), z);
}

double AnimalsLaw::probability_below(double eta) const {
  return eta < highest_ ? student(bootstrap_.probability_below(eta)) : 1;
}

double AnimalsLaw::find_quantile(double p) const {
  const double z = boost::math::quantile(
      boost::math::students_t_distribution<double, ForLimits>(bootstrap_.degrees_of_freedom()), p);
  return std::min(bootstrap_.quantile(bootstrap_.corrected(z)), highest_);
}

} // namespace eggfall
