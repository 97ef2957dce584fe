#include "statistics/trial_likelihood.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/statistics/ratio_data.hpp"
#include "statistics/log_ratio_interval.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace eggfall {
namespace {

constexpr double narrowest = 0.02; ///< w of width 0: some 2,500 eggs after treatment.
constexpr double width_ratio = 1.15;
constexpr int widest = 40;
constexpr double places_in_width = 4;
constexpr int furthest = 4'000;

/// The skews of the fixed set. They are so close that rounding to the nearest moves the place on
/// the left where log L = -2 by about a tenth of the width.
constexpr std::array skews{-2.0, -1.0, -0.5, -0.25, 0.0, 0.18, 0.25, 0.35, 0.5,
                           0.7,  0.85, 1.0,  1.2,   1.4, 1.7,  2.0,  2.8,  16.0};

/// (k x - e^(k x) + 1)/k^2, which is -x^2/2 at k = 0.
double log_curve(double x, double k) {
  const double z = k * x;
  if (std::abs(z) < 1e-3)
    return -x * x * (0.5 + z / 6 + z * z / 24);
  return (z - std::expm1(z)) / (k * k);
}

/// The distance from `top`, on the `side` 1 (right) or -1 (left), at which a function that is 0 at
/// `top` and falls from there is -drop: by halving. It has the sign of `side`.
template <typename LogLikelihood>
double crossing(LogLikelihood&& log_likelihood, double top, double drop, double side) {
  double far = side;
  while (log_likelihood(top + far) > -drop)
    far *= 2;
  double near = 0;
  constexpr int halvings = 60;
  for (int i = 0; i < halvings; ++i) {
    const double middle = (near + far) / 2;
    (log_likelihood(top + middle) > -drop ? near : far) = middle;
  }
  return far;
}

/// Where the curve of one skew and scale 1 crosses -1/2 and -2.
struct CurveShape {
  double skew = 0;
  double shoulder = 0; ///< The right x of -1/2.
  double right = 0;    ///< The right x of -2.
  double left = 0;     ///< The left x of -2.

  explicit CurveShape(double k) : skew(k) {
    const auto curve = [k](double x) { return log_curve(x, k); };
    shoulder = crossing(curve, 0, 0.5, 1);
    right = crossing(curve, 0, 2, 1);
    left = crossing(curve, 0, 2, -1);
  }

  double width() const { return right - shoulder; }
  /// How far the left crossing lies from the shoulder, in widths: 3 at skew 0, and rising with it.
  double log_reach() const { return std::log((shoulder - left) / width()); }
};

/// Shapes by ascending skew, close enough to interpolate between them.
const std::vector<CurveShape>& shapes() {
  static const std::vector<CurveShape> all = [] {
    std::vector<CurveShape> result;
    constexpr int steps = 400;
    const double low = std::asinh(skews.front());
    const double high = std::asinh(skews.back());
    for (int i = 0; i <= steps; ++i)
      result.emplace_back(std::sinh(low + (high - low) * i / steps));
    return result;
  }();
  return all;
}

/// The skew whose curve has this CurveShape::log_reach(), or the end of the skews that is nearest.
double skew_of(double log_reach) {
  const auto above = std::ranges::lower_bound(shapes(), log_reach, {}, &CurveShape::log_reach);
  if (above == shapes().begin())
    return skews.front();
  if (above == shapes().end())
    return skews.back();
  const CurveShape& high = *above;
  const CurveShape& low = *(above - 1);
  return low.skew + (log_reach - low.log_reach()) / (high.log_reach() - low.log_reach()) *
                        (high.skew - low.skew);
}

/// Eggs seen on both sides of the bar, and phi, by which their log likelihood is divided.
struct Totals {
  double above = 0;
  double below = 0;
  double shift = 0; ///< u - eta.
  double phi = 1;
};

double eggs_of(const std::vector<Count>& counts) {
  return static_cast<double>(totals_of(counts).eggs);
}

Totals totals_for(const Comparison& comparison) {
  if (comparison.arms.empty())
    throw CalculationError("the likelihood of a comparison without an arm");
  const std::vector<Count>& above = comparison.arms.front().above;
  const std::vector<Count>& below = pairs_animals(comparison.design) ? comparison.arms.front().below
                                                                     : comparison.arms.back().below;
  Totals result{eggs_of(above), eggs_of(below), std::log(exposure_of(above) / exposure_of(below))};
  if (result.below == 0)
    throw CalculationError("the likelihood of a ratio to no egg");
  // Half an egg stands for none.
  const double of_counting = 1 / std::max(result.above, 0.5) + 1 / result.below;
  double variance = of_counting;
  if (comparison.design == Design::controlled) {
    // The control's counts before treatment stand above the bar, since they multiply rho.
    const Arm& control = comparison.arms.back();
    const double before = eggs_of(control.above);
    const double after = eggs_of(control.below);
    if (before == 0 || after == 0)
      throw CalculationError("the likelihood of a ratio to a control without an egg");
    result.shift += std::log(after / exposure_of(control.below)) -
                    std::log(before / exposure_of(control.above));
    variance += 1 / before + 1 / after;
  }
  const RatioData data = epg(comparison);
  const bool lone = std::ranges::any_of(
      data.samples, [](const RatioSample& sample) { return sample.animals() < 2; });
  if (result.above > 0 && !lone) {
    const LogRatioVariance animals = log_ratio_variance(data);
    constexpr double fewest = 3;
    const double nu = std::max(animals.degrees_of_freedom, fewest);
    variance = std::max(variance, animals.variance * nu / (nu - 2));
  }
  result.phi = std::max(1.0, variance / of_counting);
  return result;
}

} // namespace

void check(const HeardLikelihood& heard) {
  if (heard.width < 0 || heard.width > widest || std::abs(heard.place) > furthest ||
      heard.skew < 0 || heard.skew >= static_cast<std::int32_t>(skews.size()))
    throw InputError(fmt::format(
        "a group's likelihood: found width {}, place {}, skew {}; expected "
        "0 to {}, -{} to {} and 0 to {}",
        heard.width, heard.place, heard.skew, widest, furthest, furthest, skews.size() - 1));
}

TrialLikelihood::TrialLikelihood(const Comparison& comparison) {
  const Totals totals = totals_for(comparison);
  const double eggs = totals.above + totals.below;
  const auto raw = [&](double u) { return totals.above * u - eggs * softplus(u); };
  // Without an egg above the bar the top is as far to the left as makes no difference.
  constexpr double far_left = -40;
  const double top = totals.above > 0 ? std::log(totals.above / totals.below) : far_left;
  const auto log_likelihood = [&](double u) { return (raw(u) - raw(top)) / totals.phi; };
  const double shoulder = crossing(log_likelihood, top, 0.5, 1);
  const double width = std::max(crossing(log_likelihood, top, 2, 1) - shoulder, narrowest);
  const double skew =
      totals.above > 0
          ? skew_of(std::log((shoulder - crossing(log_likelihood, top, 2, -1)) / width))
          : skews.back();
  place(top + shoulder - totals.shift, width, skew);
}

TrialLikelihood::TrialLikelihood(const HeardLikelihood& heard) {
  check(heard);
  const double width = narrowest * std::pow(width_ratio, heard.width);
  place(heard.place * width / places_in_width, width, skews[static_cast<std::size_t>(heard.skew)]);
}

void TrialLikelihood::place(double shoulder, double width, double skew) {
  const CurveShape shape(skew);
  shoulder_ = shoulder;
  width_ = width;
  skew_ = skew;
  scale_ = width / shape.width();
  mode_ = shoulder - scale_ * shape.shoulder;
}

HeardLikelihood TrialLikelihood::heard() const {
  HeardLikelihood result;
  result.width = static_cast<std::int32_t>(std::clamp(
      std::round(std::log(width_ / narrowest) / std::log(width_ratio)), 0.0, double{widest}));
  const double width = narrowest * std::pow(width_ratio, result.width);
  result.place = static_cast<std::int32_t>(std::clamp(
      std::round(shoulder_ * places_in_width / width), -double{furthest}, double{furthest}));
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t s = 0; s < skews.size(); ++s) {
    const double away = std::abs(std::asinh(skews[s]) - std::asinh(skew_));
    if (away < nearest) {
      nearest = away;
      result.skew = static_cast<std::int32_t>(s);
    }
  }
  return result;
}

double TrialLikelihood::log_at(double eta) const {
  return log_curve((eta - mode_) / scale_, skew_);
}

} // namespace eggfall
