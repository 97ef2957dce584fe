#pragma once

#include "eggfall/statistics/comparison.hpp"

#include <compare>
#include <cstdint>

namespace eggfall {

/// A likelihood of eta as a survey hears it: one of a fixed set of curves, by three whole numbers,
/// which may be kept, counted and written. In the order of the numbers.
struct HeardLikelihood {
  std::int32_t width = 0; ///< u = 0.02 x 1.15^width, 0 to 40.
  std::int32_t place = 0; ///< The right shoulder is place x u/4, -4,000 to 4,000.
  std::int32_t skew = 0;  ///< Which of the skews, 0 to 17; 4 is none, 17 flat to the left.

  friend constexpr std::strong_ordering operator<=>(const HeardLikelihood&,
                                                    const HeardLikelihood&) = default;
};

/// @throws InputError for a number out of its range: of a file that was changed.
void check(const HeardLikelihood& heard);

/// What the eggs of a trial say of eta = log(rho), without any prior: the likelihood of its totals,
/// B above the fraction bar and A below it, flattened by how much the animals differ,
///
///     log L(eta) = (B u - (A + B) log(1 + e^u)) / phi,  u = eta + log(exposure above / below),
///     phi = max(1, V nu/(nu - 2) / (1/A + 1/B)),
///
/// V being the delta method's variance of the log ratio of means (log_ratio_variance(), nu its
/// degrees of freedom, no fewer than 3), in which animals that differ in their levels, in their
/// luck of the day or in how they respond all have their part; phi is 1 without an egg above the
/// bar, or with one animal. In a controlled comparison u has the control's pooled log ratio added,
/// and 1/A + 1/B that of its two totals in the numerator where V cannot be had.
///
/// It is a quasi-likelihood (Wedderburn 1974, Biometrika 61:439-447, from memory), and not the
/// posterior less its prior, for a reason: of many small trials together the score B - (A + B) p
/// has the mean 0, whatever the animals do; while the paired posterior, whose variation tau is open
/// in each small trial, leans to higher efficacies. That is well within the limits of one trial,
/// but hundreds of them do not average it out: a region would be flattered (docs/methods.md has
/// figures).
///
/// It is kept as the curve
///
///     log L(eta) = (k x - e^(k x) + 1) / k^2,  x = (eta - mode) / scale,  k = skew:
///
/// normal at skew 0; the likelihood of B eggs after treatment at a known level before it at skew
/// and scale 1/sqrt(B); flat to the left without any egg above the bar. The curve agrees with the
/// likelihood where that has lost 1/2 on the right and 2 on either side of its highest logarithm.
class TrialLikelihood {
public:
  /// @throws CalculationError if no egg was counted below the bar, or in a controlled comparison in
  ///   the control.
  explicit TrialLikelihood(const Comparison& comparison);

  /// As it was heard. @throws InputError as check().
  explicit TrialLikelihood(const HeardLikelihood& heard);

  /// The nearest of the fixed set: the place within an eighth of u, which is the standard deviation
  /// of a normal likelihood, and u within 7%.
  HeardLikelihood heard() const;

  /// log L, highest 0.
  double log_at(double eta) const;

  double mode() const { return mode_; }
  double scale() const { return scale_; } ///< 1/sqrt of the curvature at the mode.
  double skew() const { return skew_; }

private:
  void place(double shoulder, double width, double skew);

  double shoulder_ = 0; ///< eta where log L = -1/2 on the right ...
  double width_ = 1;    ///< ... and from there to where it is -2.
  double skew_ = 0;
  double mode_ = 0;
  double scale_ = 1;
};

} // namespace eggfall
