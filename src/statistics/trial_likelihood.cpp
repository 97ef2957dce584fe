#include "statistics/trial_likelihood.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace eggfall {
namespace {

constexpr double narrowest = 0.02; ///< u of width 0: some 2,500 eggs after treatment.
constexpr double width_ratio = 1.15;
constexpr int widest = 40;
constexpr double places_in_width = 4;
constexpr int furthest = 4'000;

/// Half a step in any of these moves where log L = -2 on the left by a tenth of the width there.
constexpr std::array skews{-2.0, -1.0, -0.5, -0.25, 0.0, 0.18, 0.25, 0.35, 0.5,
                           0.7,  0.85, 1.0,  1.2,   1.4, 1.7,  2.0,  2.8,  16.0};

/// (k x - e^(k x) + 1)/k^2, which is -x^2/2 at k = 0.
double log_curve(double x, double k) {
  const double z = k * x;
  if (std::abs(z) < 1e-3)
    return -x * x * (0.5 + z / 6 + z * z / 24);
  return (z - std::expm1(z)) / (k * k);
}

/// x on one side of 0 where log_curve() is -`drop`: by halving, since it is done once a skew.
double crossing(double k, double drop, double side) {
  double far = side;
  while (log_curve(far, k) > -drop)
    far *= 2;
  double near = 0;
  constexpr int halvings = 60;
  for (int i = 0; i < halvings; ++i) {
    const double middle = (near + far) / 2;
    (log_curve(middle, k) > -drop ? near : far) = middle;
  }
  return far;
}

/// Where the curve of one skew and scale 1 crosses -1/2 and -2.
struct CurveShape {
  double skew = 0;
  double shoulder = 0; ///< The right x of -1/2.
  double right = 0;    ///< The right x of -2.
  double left = 0;     ///< The left x of -2.

  explicit CurveShape(double k)
      : skew(k), shoulder(crossing(k, 0.5, 1)), right(crossing(k, 2, 1)), left(crossing(k, 2, -1)) {
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

/// The skew whose curve reaches so far to the left.
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

double log_exposure(const std::vector<Count>& counts) {
  return std::log(exposure_of(counts));
}

/// log of the mean EPG of all samples taken together.
double log_pooled_mean(const std::vector<Count>& counts) {
  return std::log(static_cast<double>(totals_of(counts).eggs)) - log_exposure(counts);
}

/// Where the line between two points has the value.
double line_crossing(double x0, double y0, double x1, double y1, double value) {
  return y1 == y0 ? x1 : x0 + (x1 - x0) * std::clamp((value - y0) / (y1 - y0), 0.0, 1.0);
}

} // namespace

double prior_middle(const Comparison& comparison, const PosteriorPriors& priors) {
  if (comparison.arms.empty())
    throw CalculationError("the prior of a comparison without an arm");
  const Arm& treated = comparison.arms.front();
  const Arm& last = comparison.arms.back();
  switch (comparison.design) {
  case Design::paired:
    break;
  case Design::two_group:
  case Design::baseline:
    return std::log(priors.mean.middle_eggs * static_cast<double>(treated.above.size())) -
           log_exposure(treated.above) - log_pooled_mean(last.below);
  case Design::controlled:
    // The control's counts before stand above the bar, since they multiply rho.
    return log_exposure(treated.below) - log_exposure(treated.above) -
           (log_pooled_mean(last.below) - log_pooled_mean(last.above));
  }
  return log_exposure(treated.below) - log_exposure(treated.above);
}

void check(const HeardLikelihood& heard) {
  if (heard.width < 0 || heard.width > widest || std::abs(heard.place) > furthest ||
      heard.skew < 0 || heard.skew >= static_cast<std::int32_t>(skews.size()))
    throw InputError(fmt::format(
        "a group's likelihood: found width {}, place {}, skew {}; expected "
        "0 to {}, -{} to {} and 0 to {}",
        heard.width, heard.place, heard.skew, widest, furthest, furthest, skews.size() - 1));
}

TrialLikelihood::TrialLikelihood(const LogRatioDensity& posterior, const Comparison& comparison,
                                 const PosteriorPriors& priors) {
  if (posterior.at_zero() > 0 || posterior.at_infinity() > 0)
    throw CalculationError("the likelihood of a ratio that may be 0 or infinite");
  // Far out in its tails a density is that of its spline, and says nothing of the prior.
  constexpr double reliable = 1e-5;
  const std::vector<double>& density = posterior.density();
  const double least = reliable * *std::ranges::max_element(density);
  const auto counts = [&](double value) { return value >= least; };
  const auto first =
      static_cast<std::size_t>(std::ranges::find_if(density, counts) - density.begin());
  const auto last = static_cast<std::size_t>(
      density.rend() - std::find_if(density.rbegin(), density.rend(), counts) - 1);
  const double middle = prior_middle(comparison, priors);
  std::vector<double> eta;
  std::vector<double> log_likelihood;
  for (std::size_t i = first; i <= last; ++i) {
    eta.push_back(posterior.start() + posterior.step() * static_cast<double>(i));
    // log sech(u/2), but for a constant.
    const double u = eta.back() - middle;
    log_likelihood.push_back(std::log(std::max(density[i], least)) - u / 2 + softplus(u));
  }
  const std::size_t n = eta.size();
  if (n < 5)
    throw CalculationError("the likelihood of a posterior without width");
  const double highest = *std::ranges::max_element(log_likelihood);
  const auto right_crossing = [&](double drop) {
    std::size_t i = n - 1;
    while (log_likelihood[i] < highest - drop)
      --i;
    return i + 1 == n ? eta[i]
                      : line_crossing(eta[i], log_likelihood[i], eta[i + 1], log_likelihood[i + 1],
                                      highest - drop);
  };
  const double shoulder = right_crossing(0.5);
  const double width = std::max(right_crossing(2) - shoulder, narrowest);
  std::size_t i = 0;
  while (log_likelihood[i] < highest - 2)
    ++i;
  // A likelihood that has not fallen where the posterior ends is flat: no egg was seen.
  const double skew =
      i == 0 ? skews.back()
             : skew_of(std::log(
                   std::max(shoulder - line_crossing(eta[i - 1], log_likelihood[i - 1], eta[i],
                                                     log_likelihood[i], highest - 2),
                            narrowest) /
                   width));
  place(shoulder, width, skew);
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
