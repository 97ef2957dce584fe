#pragma once

#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/ratio_data.hpp"
#include "statistics/eta_law.hpp"

#include <memory>
#include <string>
#include <vector>

namespace eggfall {

/// The bootstrap law of a ratio whose resamples are compared with a number r by a sum: rho* <= r
/// exactly where a sum of drawn values is 0 or less. The values are, with weights w_i,
///
///     w_i (above_i - r below_i)                  of one paired sample,
///     above_i/n and -r below_j/m                 of two samples of n and m animals of one weight,
///     w_i (above_i - r) or w_i (1 - r below_i)   of one mean alone, above the bar or below it.
class LinearRatio : public EtaLaw {
public:
  /// The ratio of one sample that has both sides, or the mean of one that has a single side.
  explicit LinearRatio(const RatioSample& sample);
  /// The ratio of the means of two samples with one side each. Within each sample all animals must
  /// weigh the same, which is not checked.
  LinearRatio(const RatioSample& above, const RatioSample& below);

  /// F*(eta) = P*(rho* < r) + P*(rho* = r)/2 with r = e^eta, P* being the share of the resamples;
  /// those whose rho* is 0/0 are left out.
  double probability_below(double eta) const override;
  double least() const override { return at_zero_; }
  double most() const override { return 1 - at_infinity_; }

  /// The share of all resamples whose rho* is 0/0.
  double undefined() const { return undefined_; }

  /// The least and the greatest rho* that a resample can have. If they are equal, every resample
  /// gives this one value.
  double lowest() const { return lowest_; }
  double highest() const { return highest_; }

private:
  double find_quantile(double p) const override;

  std::vector<double> above_; ///< Weighted.
  std::vector<double> below_;
  bool paired_; ///< Whether both sides of a draw are of one animal.
  double estimate_ = 0;
  double spread_ = 0; ///< About the standard deviation of log rho*, to begin searches with.
  double at_zero_ = 0;
  double at_infinity_ = 0;
  double undefined_ = 0;
  double lowest_ = 0;
  double highest_ = 0;
};

/// The bootstrap of a ratio of means, worked out without drawing resamples. Animals are drawn whole
/// (both sides of a pair), with replacement, within each sample (Davison & Hinkley 1997, Bootstrap
/// Methods and their Application, sections 2.3 and 3.2). Where the ratio is a LinearRatio its law
/// is that of a sum, which the saddlepoint gives (saddlepoint.hpp); where it is a product of
/// several, their logarithms are added by convolution on a grid.
class Bootstrap {
public:
  /// @throws CalculationError as ratio().
  explicit Bootstrap(const RatioData& data);

  /// Why there are no limits; empty if there are. The reasons are that a sample has fewer than two
  /// animals; that the data's rho is zero or cannot be divided; that all resamples agree, or all
  /// lie on one side of the data's rho; or that rho* is 0/0 in more than 1% of them.
  const std::string& why_not() const { return why_not_; }

  double estimate() const { return estimate_; } ///< rho of the data.

  /// F*(eta) = P*(rho* < e^eta) + half of P*(rho* = e^eta); minus infinity to infinity.
  double probability_below(double eta) const { return law_->probability_below(eta); }

  /// The eta at which F* is p, 0 <= p <= 1. It is minus infinity for a p up to the probability of
  /// rho* = 0, and plus infinity where the rest is no more than that of an infinite rho*. At p = 0
  /// and 1 it is that of the most extreme resamples.
  double quantile(double p) const;

  /// The least and the greatest value of F*: the probability that rho* is 0, and 1 less the
  /// probability that it is infinite.
  double least() const { return law_->least(); }
  double most() const { return law_->most(); }

  /// The (1 -/+ level)/2 quantiles of rho*. @throws InputError unless 0 < level < 1.
  OrReason<RatioLimits> percentile_limits(double level) const;

  /// Bias-corrected and accelerated limits (Efron 1987, JASA 82:171-185; Davison & Hinkley 1997,
  /// section 5.3.2): the quantiles at
  ///
  ///     Phi( z0 + (z0 + z) / (1 - a (z0 + z)) ),
  ///
  /// where Phi is the standard normal distribution function, z = Phi^-1((1 -/+ level)/2), z0 =
  /// Phi^-1(F*(log rho)) the correction of bias and a = (1/6) sum l^3 / (sum l^2)^(3/2) the
  /// acceleration, l = u_i/n_s being the relative_influence() of each animal over the number n_s of
  /// animals in its sample. Not usable where percentile_limits() is not, or if the correction
  /// reaches beyond all resamples.
  /// @throws InputError unless 0 < level < 1.
  OrReason<RatioLimits> bca_limits(double level) const;

  /// Phi( z0 + (z0 + z) / (1 - a (z0 + z)) ) of bca_limits(), a probability; where the divisor is
  /// not above 0 it is 1 for z0 + z above 0, and 0 otherwise.
  double corrected(double z) const;

  /// The z whose corrected() is this probability; plus or minus infinity where no z has it.
  double uncorrected(double probability) const;

  /// nu = (sum V_s)^2 / sum(V_s^2 / (n_s - 1)) over the samples s of n_s animals, V_s = sum_i (u_i
  /// / n_s)^2, u_i being the relative_influence(): the degrees of freedom of the variance of log
  /// rho (Welch 1947 and Satterthwaite 1946 for variances of means; its use with influence values
  /// is practice).
  double degrees_of_freedom() const { return degrees_of_freedom_; }

private:
  void set_law(const RatioData& data);
  void set_influence(const RatioData& data);
  std::string obstacle(const RatioData& data) const;
  OrReason<RatioLimits> limits_at(double p_low, double p_high) const;

  std::shared_ptr<const EtaLaw> law_; ///< Of log rho*.
  double lowest_ = 1;                 ///< The least rho* that a resample can have ...
  double highest_ = 1;                ///< ... and the greatest.
  double undefined_ = 0;              ///< P*(0/0).
  std::string why_not_;
  double estimate_ = 0;
  double bias_correction_ = 0;
  double acceleration_ = 0;
  double degrees_of_freedom_ = 0;
};

/// The law of the witness `animals`: eta by the BCa bootstrap at every level, but with Student's
/// quantile on nu degrees of freedom in place of the normal one, so that few animals are not taken
/// for more than they are,
///
///     F(eta) = T_nu( v / (1 + a v) - z0 ),  v = Phi^-1(F*(eta)) - z0,
///
/// T_nu being Student's distribution function, and a, z0 and F* as in Bootstrap. That is for 1 + a
/// v > 0; otherwise F is 0 if a > 0, and 1 if a < 0, so that what is left of the probability lies
/// at the most extreme ratio. All of the law that lies above `highest` (a value of eta), an
/// infinite ratio included, is put at `highest`.
class AnimalsLaw : public EtaLaw {
public:
  /// @throws CalculationError if `bootstrap` has no limits.
  AnimalsLaw(Bootstrap bootstrap, double highest);

  double probability_below(double eta) const override;
  double least() const override { return least_; }
  double most() const override { return 1; }

private:
  double find_quantile(double p) const override;

  /// F of this law where F* of the bootstrap is `resampled`.
  double student(double resampled) const;

  Bootstrap bootstrap_;
  double highest_;
  double least_ = 0;
};

} // namespace eggfall
