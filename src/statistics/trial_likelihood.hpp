#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/posterior.hpp"

#include <compare>
#include <cstdint>

namespace eggfall {

/// The middle of the prior that posterior() has put on eta = log(rho). In every design that prior
/// is the logistic-like density of the logit of a Beta(1/2, 1/2) variable,
///
///     p(eta) = sech(u/2) / (2 pi),  u = eta - middle,
///
/// flat within some two units of its middle, and falling as e^(-|u|/2) beyond:
///
///     paired       log(exposure below / exposure above): as many eggs expected on both days;
///     two groups   log(30 f_T / M_C): the treated mean has its prior's middle, 30 eggs seen at its
///                  factor f_T, and the control's is M_C, its pooled mean EPG;
///     controlled   that of the treated arm less log(pooled rho of the control).
///
/// For two groups and the controlled design this is the prior of eta where the control is what it
/// was counted to be. (Each mean has a prior of its own. Their difference by itself has another
/// one, by which a very low rho would be as much a sign of an enormous control as of a drench that
/// works; but the control was counted.) What the counts leave open of the control, 0.3 or so in its
/// logarithm, changes p(eta) by a factor that is as good as constant. The priors of all variations
/// are independent of eta.
/// @throws CalculationError without an arm.
double prior_middle(const Comparison& comparison, const PosteriorPriors& priors);

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

/// What a trial says of eta, its prior taken out, as the curve
///
///     log L(eta) = (k x - e^(k x) + 1) / k^2,  x = (eta - mode) / scale,  k = skew:
///
/// a normal density at skew 0; the likelihood of B eggs after treatment at a known level before it
/// at skew 1/sqrt(B) and scale 1/sqrt(B); flat to the left without any egg after. It agrees with
/// the true likelihood where that has lost 1/2 on the right and 2 on either side of its highest
/// logarithm.
class TrialLikelihood {
public:
  /// From posterior() of this comparison with these priors.
  /// @throws CalculationError if rho may be 0 or infinite by the posterior, or it has no width.
  TrialLikelihood(const LogRatioDensity& posterior, const Comparison& comparison,
                  const PosteriorPriors& priors = {});

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
