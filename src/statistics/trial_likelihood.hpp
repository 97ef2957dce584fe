#pragma once

#include "eggfall/statistics/comparison.hpp"

#include <compare>
#include <cstdint>

namespace eggfall {

/// A likelihood of eta rounded to the nearest of a fixed set of curves, so that a survey can keep,
/// count and write it as three whole numbers. Sorted in the order of these. w is the curve's width:
/// the distance in eta from where the log likelihood is 1/2 below its highest, on the right, to
/// where it is 2 below.
struct HeardLikelihood {
  std::int32_t width = 0; ///< w = 0.02 x 1.15^width, 0 to 40.
  std::int32_t place = 0; ///< eta of the right shoulder, in steps of w/4: -4,000 to 4,000.
  std::int32_t skew = 0;  ///< Which of the 18 skews, 0 to 17; 4 is skew 0, 17 flat to the left.

  friend constexpr std::strong_ordering operator<=>(const HeardLikelihood&,
                                                    const HeardLikelihood&) = default;
};

/// Checks numbers that were read from a file. @throws InputError if one is out of its range.
void check(const HeardLikelihood& heard);

/// What the eggs of a trial say of eta = log(rho), without any prior: the likelihood of its totals
/// of eggs seen, B above the fraction bar and A below it, flattened by how much the animals differ,
///
///     log L(eta) = (B u - (A + B) log(1 + e^u)) / phi,  u = eta + log(exposure above / below),
///     phi = max(1, V nu/(nu - 2) / (1/A + 1/B)),
///
/// exposure being the sum of 1/f over a side's samples with factors f, and V the delta method's
/// variance of the log ratio of means (log_ratio_variance(), nu its degrees of freedom, taken as no
/// fewer than 3). Animals that differ in their levels, in their luck of the day or in how they
/// respond all add to V. V is not used, so that phi is 1, where no egg was counted above the bar
/// (half an egg then stands for B in 1/A + 1/B) or where a sample has one animal. In a controlled
/// comparison the control's pooled log ratio is added to u, and the numerator of phi is at least
/// 1/A + 1/B plus the same of the control's two totals.
///
/// It is a quasi-likelihood (Wedderburn 1974, Biometrika 61:439-447, from memory). The posterior
/// less its prior would not do in its place: its variation tau is open in each small trial, and it
/// therefore leans to higher efficacies, by well less than the limits of one trial, but in the same
/// direction in hundreds of them, so that a region would be flattered (docs/methods.md has
/// figures). The score B - (A + B) p of this likelihood, p = e^u/(1 + e^u), has the mean 0 over
/// many small trials, whatever the animals do.
///
/// It is kept as the curve
///
///     log L(eta) = (k x - e^(k x) + 1) / k^2,  x = (eta - mode) / scale,  k = skew:
///
/// which is normal at skew 0, is the likelihood of B eggs after treatment at a known level before
/// it at skew and scale 1/sqrt(B), and is flat to the left where no egg was counted above the bar.
/// The curve agrees with the likelihood at three places: where the logarithm is 1/2 below its
/// highest on the right, and 2 below it on either side.
class TrialLikelihood {
public:
  /// @throws CalculationError if no egg was counted below the bar, or in a controlled comparison in
  ///   the control.
  explicit TrialLikelihood(const Comparison& comparison);

  /// The curve of these three numbers. @throws InputError as check().
  explicit TrialLikelihood(const HeardLikelihood& heard);

  /// The nearest curve of the fixed set. Its right shoulder is within an eighth of its width w
  /// (which is the standard deviation of a normal likelihood), and w within 7%, except beyond the
  /// ends of their ranges.
  HeardLikelihood heard() const;

  /// log L(eta), whose highest is 0.
  double log_at(double eta) const;

  double mode() const { return mode_; }
  double scale() const { return scale_; } ///< 1/sqrt of the curvature at the mode.
  double skew() const { return skew_; }

private:
  void place(double shoulder, double width, double skew);

  double shoulder_ = 0; ///< The eta, right of the mode, where log L = -1/2 ...
  double width_ = 1;    ///< ... and how far beyond it log L = -2.
  double skew_ = 0;
  double mode_ = 0;
  double scale_ = 1;
};

} // namespace eggfall
