#pragma once

#include "eggfall/statistics/interval.hpp"

#include <cstddef>
#include <functional>
#include <vector>

namespace eggfall {

/// A value by quadrature. Its `error` is how far the same value on a coarser grid was from it,
/// which is a generous estimate.
struct Quadrature {
  double value = 0;
  double error = 0;
};

/// Log densities, known up to a common constant, on a uniform grid of eta = log(rho)
/// and, by a coarser rule, on every second point of the same grid.
struct NestedLogDensity {
  double start = 0;
  double step = 0;            ///< The step of `fine`; that of `coarse` is twice as long.
  std::vector<double> fine;   ///< An odd number of points, 17 or more.
  std::vector<double> coarse; ///< (fine.size() + 1) / 2 points.
};

/// One of the values that an independent random shift of eta may take; see shifted().
struct WeightedShift {
  double shift = 0;
  double weight = 0;        ///< At least 0; only the ratios of the weights matter.
  double coarse_weight = 0; ///< Its weight by a coarser rule, 0 if that lacks this shift.
};

/// A law of eta on a uniform grid: how much of it belongs to each point, and how much lies where
/// rho is 0 and where it is infinite.
struct EtaMasses {
  double start = 0;
  double step = 0;
  std::vector<double> masses; ///< An odd number of points, 17 or more; none below 0.
  double at_zero = 0;         ///< P(rho = 0), eta being minus infinity.
  double at_infinity = 0;
};

/// A law of eta = log(rho), rho being a ratio of means and 1 - rho the efficacy. Every design's
/// answer comes in this shape, and answers are combined in it. Each number drawn from it carries,
/// as its error, the difference from the same number on a coarser grid. A posterior is a density of
/// finite eta; other laws may have some of their probability at rho = 0 and at an infinite rho.
class LogRatioDensity {
public:
  /// Interpolates the log densities by quintic splines and normalises.
  /// @throws CalculationError if the grid has another shape than NestedLogDensity tells, a value is
  ///   NaN or positive infinity, or no point has a density.
  explicit LogRatioDensity(const NestedLogDensity& log_density);

  /// Spreads each mass over its neighbourhood by the cubic B-spline of the grid's step, which keeps
  /// the masses' sum and mean. A lump at one point is so given a width that other grids can hold.
  /// @throws CalculationError if there are fewer than 17 points or an even number, the step is not
  ///   above 0, or no point has a mass.
  explicit LogRatioDensity(const EtaMasses& law);

  /// The probability that rho is 0, and that it is infinite.
  double at_zero() const { return fine_.at_zero; }
  double at_infinity() const { return fine_.at_infinity; }

  /// The eta below which the probability is p: minus infinity where rho is 0 with probability p or
  /// more, and plus infinity where rho is infinite with probability 1 - p or more.
  /// @throws InputError unless 0 < p < 1.
  Quadrature quantile(double p) const;

  /// The probability that rho < `ratio`, ratio >= 0.
  Quadrature probability_below(double ratio) const;

  /// The probability that the efficacy 1 - rho is below `efficacy` (a proportion, at
  /// most 1): that rho is above 1 - efficacy.
  Quadrature probability_efficacy_below(double efficacy) const;

  /// The probability that no rho of the independent `others` is lower than this one by more than
  /// `margin` (a proportion, 0 or more):
  ///
  ///     integral f(eta) prod_i (1 - F_i(log(rho - margin))) d eta,
  ///
  /// by the trapezoid rule at the finest step among them all; 1 without others. The sums run over
  /// the fine curves, and again over the coarse ones at twice the step.
  /// @throws CalculationError if `margin` is below 0 or NaN, or if rho may be 0 or infinite (see
  ///   held_within()).
  Quadrature probability_none_lower(const std::vector<const LogRatioDensity*>& others,
                                    double margin) const;

  /// Means of eta and of rho where these are finite. The mean of rho exists only as far as the grid
  /// reaches.
  Quadrature mean_log_ratio() const;
  Quadrature mean_ratio() const;

  /// Equal-tailed limits of rho. @throws InputError unless 0 < level < 1.
  RatioLimits limits(double level) const;

  /// The density of X - Y for independent X ~ `x` and Y ~ `y`, by convolution: the logarithm of a
  /// ratio of two ratios. Where both are minus infinity or both plus infinity the difference has no
  /// value; that part is left out and the rest normalised, as the bootstrap leaves out a resample
  /// without any egg.
  friend LogRatioDensity difference(const LogRatioDensity& x, const LogRatioDensity& y);

  /// The density of X + S for X ~ `x` and an independent S that takes each of `shifts` with a
  /// probability in proportion to its weight. The shifts must lie closer together than the density
  /// is wide, or the result will be bumpy.
  /// @throws CalculationError if there is no shift, or if all weights, or all coarse weights, are
  ///   0.
  friend LogRatioDensity shifted(const LogRatioDensity& x,
                                 const std::vector<WeightedShift>& shifts);

  /// The density of X + Y for independent X ~ `x` and Y ~ `y`: of a product of ratios.
  friend LogRatioDensity sum(const LogRatioDensity& x, const LogRatioDensity& y);

  /// The density of k X, k > 0. @throws CalculationError for another k.
  friend LogRatioDensity scaled(const LogRatioDensity& x, double k);

  /// The density of X times weight(eta), normalised. No weight may be below 0.
  /// @throws CalculationError if rho may be 0 or infinite, or if nothing is left.
  friend LogRatioDensity reweighted(const LogRatioDensity& x,
                                    const std::function<double(double)>& weight);

  /// The law of min(max(X, low), high): what lies below `low`, rho = 0 included, is put at `low`,
  /// and what lies above `high`, an infinite rho included, at `high`.
  /// @throws CalculationError unless low < high.
  friend LogRatioDensity held_within(const LogRatioDensity& x, double low, double high);

  double start() const { return fine_.start; }
  double step() const { return fine_.step; }
  /// The density, per unit of eta, at start() + i step(). It integrates to 1 less at_zero() and
  /// at_infinity().
  const std::vector<double>& density() const { return fine_.density; }

private:
  struct Curve {
    double start = 0;
    double step = 0;
    std::vector<double> density;
    std::vector<double> cumulative; ///< Probability below each point, at_zero included.
    double at_zero = 0;
    double at_infinity = 0;

    double last() const { return start + step * static_cast<double>(density.size() - 1); }
  };

  /// Where rho is 0 and where it is infinite.
  struct Ends {
    double at_zero;
    double at_infinity;
  };

  LogRatioDensity(Curve fine, Curve coarse);
  static Curve normalised(double start, double step, std::vector<double> density, Ends ends = {});
  static Ends ends_of(const Curve& curve) { return {curve.at_zero, curve.at_infinity}; }
  static Ends ends_of_difference(const Curve& x, const Curve& y);
  static Curve held_within(const Curve& curve, double low, double high);
  bool is_finite() const { return at_zero() == 0 && at_infinity() == 0; }
  static Curve reflected(const Curve& curve);
  static std::vector<double> resampled(const Curve& curve, double step, std::size_t size);
  static double quantile(const Curve& curve, double p);
  static double probability_below_eta(const Curve& curve, double eta);
  static double expectation(const Curve& curve, double (*quantity)(double));

  Curve fine_;
  Curve coarse_; ///< At twice the step.
};

LogRatioDensity difference(const LogRatioDensity& x, const LogRatioDensity& y);
LogRatioDensity shifted(const LogRatioDensity& x, const std::vector<WeightedShift>& shifts);
LogRatioDensity sum(const LogRatioDensity& x, const LogRatioDensity& y);
LogRatioDensity scaled(const LogRatioDensity& x, double k);
LogRatioDensity reweighted(const LogRatioDensity& x, const std::function<double(double)>& weight);
LogRatioDensity held_within(const LogRatioDensity& x, double low, double high);

} // namespace eggfall
