#include "eggfall/statistics/log_ratio_density.hpp"

#include "eggfall/base/error.hpp"

#include <Eigen/Core>
#include <boost/math/interpolators/cardinal_quintic_b_spline.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t refinement = 4; ///< Points shown for each point computed.
constexpr std::size_t fewest_points = 17;
/// A log density this far below the highest counts as nothing.
constexpr double deepest = 60;
constexpr std::size_t most_points = 20'000; ///< Of two densities or more on a common grid.

/// exp of the spline through `log_density`, at `ratio` points for each of its own.
std::vector<double> refined(std::vector<double> log_density, std::size_t ratio) {
  double highest = -std::numeric_limits<double>::infinity();
  for (const double value : log_density) {
    if (std::isnan(value) || value == std::numeric_limits<double>::infinity())
      throw CalculationError("a posterior density that is no number");
    highest = std::max(highest, value);
  }
  if (!std::isfinite(highest))
    throw CalculationError("a posterior density that is zero everywhere");
  for (double& value : log_density)
    value = std::max(value - highest, -deepest);
  // The spline's own coordinate counts points, so that every place asked for is exact in binary.
  const boost::math::interpolators::cardinal_quintic_b_spline<double> spline(log_density, 0.0, 1.0);
  std::vector<double> density(ratio * (log_density.size() - 1) + 1);
  for (std::size_t i = 0; i < density.size(); ++i)
    density[i] = std::exp(spline(static_cast<double>(i) / static_cast<double>(ratio)));
  return density;
}

/// Masses spread by the cubic B-spline of their step, which gives a sixth of each to its
/// neighbours. The result has two points more at either end, of which the outermost are 0, so that
/// the density ends at 0.
std::vector<double> spread(const std::vector<double>& masses) {
  std::vector<double> density(masses.size() + 4, 0.0);
  for (std::size_t i = 0; i < masses.size(); ++i) {
    density[i + 1] += masses[i] / 6;
    density[i + 2] += masses[i] * 4 / 6;
    density[i + 3] += masses[i] / 6;
  }
  return density;
}

/// The value at `position` of a density that is given at the whole numbers from 0 on: by cubic
/// interpolation, never below 0, and 0 outside.
double interpolated(const std::vector<double>& density, double position) {
  if (!(position >= 0))
    return 0;
  const auto bin = static_cast<std::size_t>(position);
  if (bin + 1 >= density.size())
    return bin < density.size() && position == static_cast<double>(bin) ? density[bin] : 0;
  const double t = position - static_cast<double>(bin);
  const double before = bin > 0 ? density[bin - 1] : density[bin];
  const double after = bin + 2 < density.size() ? density[bin + 2] : density[bin + 1];
  const double left = density[bin];
  const double right = density[bin + 1];
  const double slope_left = (right - before) / 2;
  const double slope_right = (after - left) / 2;
  const double value =
      left + t * (slope_left + t * (3 * (right - left) - 2 * slope_left - slope_right +
                                    t * (2 * (left - right) + slope_left + slope_right)));
  return std::max(0.0, value);
}

/// The correlation sum_j x(i + j) y(j): the density of X - Y on a common grid.
std::vector<double> correlated(const std::vector<double>& x, const std::vector<double>& y) {
  const auto nx = static_cast<Eigen::Index>(x.size());
  const auto ny = static_cast<Eigen::Index>(y.size());
  const Eigen::Map<const Eigen::VectorXd> vx(x.data(), nx);
  const Eigen::Map<const Eigen::VectorXd> vy(y.data(), ny);
  std::vector<double> result(x.size() + y.size() - 1);
  for (Eigen::Index i = -(ny - 1); i < nx; ++i) {
    const Eigen::Index first = std::max<Eigen::Index>(0, -i);
    const Eigen::Index count = std::min(ny, nx - i) - first;
    result[static_cast<std::size_t>(i + ny - 1)] =
        vx.segment(i + first, count).dot(vy.segment(first, count));
  }
  return result;
}

} // namespace

LogRatioDensity::LogRatioDensity(const NestedLogDensity& log_density) {
  const std::size_t points = log_density.fine.size();
  if (points < fewest_points || points % 2 == 0 || log_density.coarse.size() != (points + 1) / 2 ||
      !(log_density.step > 0))
    throw CalculationError("a posterior grid of an impossible shape");
  const double step = log_density.step / refinement;
  fine_ = normalised(log_density.start, step, refined(log_density.fine, refinement));
  coarse_ = normalised(log_density.start, 2 * step, refined(log_density.coarse, refinement));
}

LogRatioDensity::LogRatioDensity(const EtaMasses& law) {
  const std::size_t points = law.masses.size();
  if (points < fewest_points || points % 2 == 0 || !(law.step > 0))
    throw CalculationError("a law of masses on a grid of an impossible shape");
  const Ends ends{law.at_zero, law.at_infinity};
  std::vector<double> pairs((points + 1) / 2, 0.0);
  for (std::size_t i = 0; i < points; ++i) {
    pairs[i / 2] += i % 2 == 0 ? law.masses[i] : law.masses[i] / 2;
    if (i % 2 == 1)
      pairs[i / 2 + 1] += law.masses[i] / 2;
  }
  fine_ = normalised(law.start - 2 * law.step, law.step, spread(law.masses), ends);
  coarse_ = normalised(law.start - 4 * law.step, 2 * law.step, spread(pairs), ends);
}

LogRatioDensity::LogRatioDensity(Curve fine, Curve coarse)
    : fine_(std::move(fine)), coarse_(std::move(coarse)) {}

LogRatioDensity::Curve LogRatioDensity::normalised(double start, double step,
                                                   std::vector<double> density, Ends ends) {
  Curve curve{start, step, std::move(density), {}, ends.at_zero, ends.at_infinity};
  std::vector<double>& f = curve.density;
  const std::size_t n = f.size();
  curve.cumulative.resize(n, 0.0);
  // Trapezoids with the end correction h^2/12 (f'(right) - f'(left)), the slopes by
  // central differences: exact for cubics. Beside a lump the slope is limited, since a steeper one
  // would take more area from a bin than the bin holds.
  const auto slope = [&](std::size_t i) {
    return i > 0 && i + 1 < n ? std::clamp((f[i + 1] - f[i - 1]) / 2, -6 * f[i], 6 * f[i]) : 0.0;
  };
  for (std::size_t i = 1; i < n; ++i) {
    const double area = (f[i - 1] + f[i]) / 2 - (slope(i) - slope(i - 1)) / 12;
    curve.cumulative[i] = curve.cumulative[i - 1] + step * std::max(0.0, area);
  }
  const double total = curve.cumulative.back();
  if (!(total > 0) || !std::isfinite(total))
    throw CalculationError("a posterior density that cannot be normalised");
  const double finite = 1 - ends.at_zero - ends.at_infinity;
  for (double& value : f)
    value *= finite / total;
  for (double& value : curve.cumulative)
    value = ends.at_zero + finite * (value / total);
  return curve;
}

/// The curve of -eta, and so of 1/rho.
LogRatioDensity::Curve LogRatioDensity::reflected(const Curve& curve) {
  return normalised(-curve.last(), curve.step, {curve.density.rbegin(), curve.density.rend()},
                    {curve.at_infinity, curve.at_zero});
}

LogRatioDensity::Ends LogRatioDensity::ends_of_difference(const Curve& x, const Curve& y) {
  const double without_value = x.at_zero * y.at_zero + x.at_infinity * y.at_infinity;
  const double zero =
      x.at_zero * (1 - y.at_zero) + y.at_infinity * (1 - x.at_infinity) - x.at_zero * y.at_infinity;
  const double infinite =
      x.at_infinity * (1 - y.at_infinity) + y.at_zero * (1 - x.at_zero) - x.at_infinity * y.at_zero;
  return {zero / (1 - without_value), infinite / (1 - without_value)};
}

double LogRatioDensity::probability_below_eta(const Curve& curve, double eta) {
  const double position = (eta - curve.start) / curve.step;
  if (!(position > 0))
    return curve.at_zero;
  const auto last = static_cast<double>(curve.density.size() - 1);
  if (position >= last)
    return 1 - curve.at_infinity;
  const auto bin = static_cast<std::size_t>(position);
  // Cubic Hermite: the cumulative probability and its slope, the density, at both ends.
  const double t = position - static_cast<double>(bin);
  const double left = curve.cumulative[bin];
  const double rise = curve.cumulative[bin + 1] - left;
  const double slope_left = curve.step * curve.density[bin];
  const double slope_right = curve.step * curve.density[bin + 1];
  const double p = left + t * (slope_left + t * (3 * rise - 2 * slope_left - slope_right +
                                                 t * (slope_left + slope_right - 2 * rise)));
  return std::clamp(p, left, curve.cumulative[bin + 1]);
}

/// The density at `size` points `step` apart, beginning at the curve's own first point. At a step
/// wider than the curve's it is the mass around each point divided by the step, so that no mass is
/// lost between two points.
std::vector<double> LogRatioDensity::resampled(const Curve& curve, double step, std::size_t size) {
  std::vector<double> result(size, 0.0);
  constexpr double rounding = 1e-9;
  if (step <= curve.step * (1 + rounding)) {
    for (std::size_t i = 0; i < size; ++i)
      result[i] = interpolated(curve.density, step * static_cast<double>(i) / curve.step);
    return result;
  }
  double below = curve.at_zero;
  for (std::size_t i = 0; i < size; ++i) {
    const double edge = curve.start + step * (static_cast<double>(i) + 0.5);
    const double up_to = i + 1 < size ? probability_below_eta(curve, edge) : 1 - curve.at_infinity;
    result[i] = (up_to - below) / step;
    below = up_to;
  }
  return result;
}

double LogRatioDensity::quantile(const Curve& curve, double p) {
  if (p <= curve.at_zero && curve.at_zero > 0)
    return -std::numeric_limits<double>::infinity();
  if (p >= curve.cumulative.back())
    return curve.at_infinity > 0 ? std::numeric_limits<double>::infinity() : curve.last();
  const auto above = std::ranges::upper_bound(curve.cumulative, p);
  const auto bin = static_cast<double>(std::distance(curve.cumulative.begin(), above) - 1);
  double low = curve.start + curve.step * bin;
  double high = low + curve.step;
  constexpr int halvings = 48; // of a bin: to the last bits of eta
  for (int i = 0; i < halvings; ++i) {
    const double middle = low + (high - low) / 2;
    (probability_below_eta(curve, middle) < p ? low : high) = middle;
  }
  return low + (high - low) / 2;
}

double LogRatioDensity::expectation(const Curve& curve, double (*quantity)(double)) {
  double sum = 0;
  double mass = 0;
  for (std::size_t i = 0; i < curve.density.size(); ++i) {
    sum += curve.density[i] * quantity(curve.start + curve.step * static_cast<double>(i));
    mass += curve.density[i];
  }
  return sum / mass;
}

Quadrature LogRatioDensity::quantile(double p) const {
  if (!(p > 0 && p < 1))
    throw InputError(fmt::format("a quantile at {}; expected more than 0 and less than 1", p));
  const double value = quantile(fine_, p);
  const double coarse = quantile(coarse_, p);
  return {value, value == coarse ? 0 : std::abs(value - coarse)};
}

Quadrature LogRatioDensity::probability_below(double ratio) const {
  if (!(ratio > 0))
    return {at_zero(), 0};
  const double eta = std::log(ratio);
  const double value = probability_below_eta(fine_, eta);
  return {value, std::abs(value - probability_below_eta(coarse_, eta))};
}

Quadrature LogRatioDensity::probability_efficacy_below(double efficacy) const {
  const Quadrature better = probability_below(1 - efficacy);
  return {1 - better.value, better.error};
}

Quadrature
LogRatioDensity::probability_none_lower(const std::vector<const LogRatioDensity*>& others,
                                        double margin) const {
  if (!(margin >= 0))
    throw CalculationError("a margin that is no proportion");
  if (!is_finite())
    throw CalculationError("a chance to be best of a ratio that may be 0 or infinite");
  const double length = fine_.step * static_cast<double>(fine_.density.size() - 1);
  double finest = fine_.step;
  for (const LogRatioDensity* other : others)
    finest = std::min(finest, other->fine_.step);
  const auto mean_over = [&](Curve LogRatioDensity::*which, double step) {
    const Curve& own = this->*which;
    const auto points = static_cast<std::size_t>(std::floor(length / step + 1e-9)) + 1;
    const std::vector<double> density = resampled(own, step, points);
    double sum = 0;
    double mass = 0;
    for (std::size_t i = 0; i < points; ++i) {
      const double eta = own.start + step * static_cast<double>(i);
      // A rho of no more than the margin cannot be undercut by more than it: the bound's logarithm
      // is then minus infinity, and no other law has anything below that.
      const double bound = margin > 0 ? std::log(std::max(0.0, std::exp(eta) - margin)) : eta;
      double none_lower = density[i];
      for (const LogRatioDensity* other : others)
        none_lower *= 1 - probability_below_eta(other->*which, bound);
      sum += none_lower;
      mass += density[i];
    }
    return sum / mass;
  };
  const double step = std::max(finest, length / most_points);
  const double value = mean_over(&LogRatioDensity::fine_, step);
  return {value, std::abs(value - mean_over(&LogRatioDensity::coarse_, 2 * step))};
}

Quadrature LogRatioDensity::mean_log_ratio() const {
  const auto log_ratio = [](double eta) { return eta; };
  const double value = expectation(fine_, log_ratio);
  return {value, std::abs(value - expectation(coarse_, log_ratio))};
}

Quadrature LogRatioDensity::mean_ratio() const {
  const auto ratio = [](double eta) { return std::exp(eta); };
  const double value = expectation(fine_, ratio);
  return {value, std::abs(value - expectation(coarse_, ratio))};
}

RatioLimits LogRatioDensity::limits(double level) const {
  check_level(level);
  const Quadrature low = quantile((1 - level) / 2);
  const Quadrature high = quantile((1 + level) / 2);
  // Turns an error d of eta into the error rho (e^d - 1) of rho.
  const auto of_ratio = [](const Quadrature& eta) {
    return std::exp(eta.value) * std::expm1(eta.error);
  };
  return {std::exp(low.value), std::exp(high.value), std::max(of_ratio(low), of_ratio(high))};
}

LogRatioDensity difference(const LogRatioDensity& x, const LogRatioDensity& y) {
  const auto length = [](const LogRatioDensity& law) {
    return law.fine_.step * static_cast<double>(law.fine_.density.size() - 1);
  };
  // The coarse answer comes from the coarse densities on a grid of twice the step.
  const auto at_step = [&](double step, const LogRatioDensity::Curve& of_x,
                           const LogRatioDensity::Curve& of_y) {
    const auto points = [&](const LogRatioDensity& law) {
      return static_cast<std::size_t>(std::floor(length(law) / step + 1e-9)) + 1;
    };
    const double start = of_x.start - (of_y.start + step * static_cast<double>(points(y) - 1));
    return LogRatioDensity::normalised(
        start, step,
        correlated(LogRatioDensity::resampled(of_x, step, points(x)),
                   LogRatioDensity::resampled(of_y, step, points(y))),
        LogRatioDensity::ends_of_difference(of_x, of_y));
  };
  const double step =
      std::max(std::min(x.fine_.step, y.fine_.step), (length(x) + length(y)) / most_points);
  return {at_step(step, x.fine_, y.fine_), at_step(2 * step, x.coarse_, y.coarse_)};
}

LogRatioDensity shifted(const LogRatioDensity& x, const std::vector<WeightedShift>& shifts) {
  if (shifts.empty())
    throw CalculationError("a shift of a posterior by nothing");
  const auto [least, most] = std::ranges::minmax(shifts, {}, &WeightedShift::shift);
  const auto mixed = [&, low = least.shift, high = most.shift](const LogRatioDensity::Curve& curve,
                                                               double WeightedShift::*weight) {
    const double own_length = curve.step * static_cast<double>(curve.density.size() - 1);
    const double length = own_length + (high - low);
    const double step = std::max(curve.step, length / most_points);
    std::vector<double> density(static_cast<std::size_t>(std::ceil(length / step)) + 1, 0.0);
    for (const WeightedShift& each : shifts) {
      if (!(each.*weight > 0))
        continue;
      const double offset = (each.shift - low) / step; // of the curve's first point
      const auto first = static_cast<std::size_t>(std::ceil(offset));
      const auto last = std::min(static_cast<std::size_t>(std::floor(offset + own_length / step)),
                                 density.size() - 1);
      for (std::size_t i = first; i <= last; ++i)
        density[i] += each.*weight * interpolated(curve.density, (static_cast<double>(i) - offset) *
                                                                     step / curve.step);
    }
    return LogRatioDensity::normalised(curve.start + low, step, std::move(density),
                                       LogRatioDensity::ends_of(curve));
  };
  return {mixed(x.fine_, &WeightedShift::weight), mixed(x.coarse_, &WeightedShift::coarse_weight)};
}

LogRatioDensity sum(const LogRatioDensity& x, const LogRatioDensity& y) {
  return difference(x,
                    {LogRatioDensity::reflected(y.fine_), LogRatioDensity::reflected(y.coarse_)});
}

LogRatioDensity scaled(const LogRatioDensity& x, double k) {
  if (!(k > 0))
    throw CalculationError("a law scaled by a number that is not above 0");
  const auto changed = [&](const LogRatioDensity::Curve& curve) {
    return LogRatioDensity::normalised(k * curve.start, k * curve.step, curve.density,
                                       LogRatioDensity::ends_of(curve));
  };
  return {changed(x.fine_), changed(x.coarse_)};
}

LogRatioDensity reweighted(const LogRatioDensity& x, const std::function<double(double)>& weight) {
  if (!x.is_finite())
    throw CalculationError("a weight for a ratio that may be 0 or infinite");
  const auto changed = [&](const LogRatioDensity::Curve& curve) {
    std::vector<double> density = curve.density;
    for (std::size_t i = 0; i < density.size(); ++i)
      density[i] *= weight(curve.start + curve.step * static_cast<double>(i));
    return LogRatioDensity::normalised(curve.start, curve.step, std::move(density));
  };
  return {changed(x.fine_), changed(x.coarse_)};
}

LogRatioDensity::Curve LogRatioDensity::held_within(const Curve& curve, double low, double high) {
  // The new grid spans only the part of the old one between the two bounds. It is stretched to a
  // bound where mass at a rho of 0 or infinity must be put there.
  const double from = std::min(curve.at_zero > 0 ? low : std::max(low, curve.start), high);
  const double to = std::max(curve.at_infinity > 0 ? high : std::min(high, curve.last()), from);
  const double step = std::max(curve.step, (to - from) / most_points);
  const auto points = static_cast<std::size_t>(std::max(1.0, std::ceil((to - from) / step))) + 1;
  // Each point takes the mass within half a step of it, and the first and last all mass beyond.
  std::vector<double> masses;
  double below = 0;
  for (std::size_t i = 0; i < points; ++i) {
    const double up_to =
        i + 1 < points ? probability_below_eta(curve, from + step * (static_cast<double>(i) + 0.5))
                       : 1;
    masses.push_back(up_to - std::exchange(below, up_to));
  }
  return normalised(from - 2 * step, step, spread(masses));
}

LogRatioDensity held_within(const LogRatioDensity& x, double low, double high) {
  if (!(low < high))
    throw CalculationError("a law held within nothing");
  return {LogRatioDensity::held_within(x.fine_, low, high),
          LogRatioDensity::held_within(x.coarse_, low, high)};
}

} // namespace eggfall
