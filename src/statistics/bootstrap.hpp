#pragma once

#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/ratio_data.hpp"
#include "statistics/eta_law.hpp"

#include <memory>
#include <string>
#include <vector>

namespace eggfall {

/// A ratio whose resamples are sums: rho* <= r just where a sum of draws is 0 or less. Of a paired
/// sample the values are w_i (above_i - r below_i); of two samples without weights above_i/n and
/// -r below_j/m; of one mean by itself w_i (above_i - r), or w_i (1/r - below_i) below the bar.
class LinearRatio : public EtaLaw {
public:
  /// One sample with both sides or with one.
  explicit LinearRatio(const RatioSample& sample);
  /// Two samples with one side each, all of whose animals weigh the same.
  LinearRatio(const RatioSample& above, const RatioSample& below);

  /// F*(eta) = P*(rho* < r) + P*(rho* = r)/2 with r = e^eta, of the resamples whose rho* is a
  /// number or infinite: not 0/0.
  double probability_below(double eta) const override;
  double least() const override { return at_zero_; }
  double most() const override { return 1 - at_infinity_; }

  /// P*(0/0) of all resamples.
  double undefined() const { return undefined_; }

  /// The extremes that rho* may have. If they are one, all resamples give it.
  double lowest() const { return lowest_; }
  double highest() const { return highest_; }

private:
  double find_quantile(double p) const override;

  std::vector<double> above_; ///< Weighted.
  std::vector<double> below_;
  bool paired_; ///< Draws of both sides are of the same animals.
  double estimate_ = 0;
  double spread_ = 0; ///< Standard deviation of log rho*, about.
  double at_zero_ = 0;
  double at_infinity_ = 0;
  double undefined_ = 0;
  double lowest_ = 0;
  double highest_ = 0;
};

/// The bootstrap of a ratio of means without resampling: animals are drawn whole (both sides of a
/// pair), with replacement, within each sample (Davison & Hinkley 1997, Bootstrap Methods and their
/// Application, sections 2.3 and 3.2). The law of the ratio is that of a sum, which the saddlepoint
/// gives (saddlepoint.hpp); a product of several ratios is a sum of their logarithms, convolved on
/// a grid.
class Bootstrap {
public:
  /// @throws CalculationError as ratio().
  explicit Bootstrap(const RatioData& data);

  /// Why there are no limits, empty if there are: a sample has fewer than two animals; the data's
  /// rho is zero or undefined; all resamples agree; more than 1% of them are undefined.
  const std::string& why_not() const { return why_not_; }

  double estimate() const { return estimate_; } ///< rho of the data.

  /// F*(eta) = P*(rho* < e^eta) + half of P*(rho* = e^eta); minus infinity to infinity.
  double probability_below(double eta) const { return law_->probability_below(eta); }

  /// The eta at which F* is p; minus infinity, or plus infinity, where so much lies at rho* = 0 or
  /// at an infinite rho*; at 0 and 1 that of the most extreme resamples. 0 <= p <= 1.
  double quantile(double p) const;

  /// F* at a rho* of 0, and just below an infinite one.
  double least() const { return law_->least(); }
  double most() const { return law_->most(); }

  /// The (1 -/+ level)/2 quantiles of rho*. @throws InputError unless 0 < level < 1.
  OrReason<RatioLimits> percentile_limits(double level) const;

  /// Bias-corrected and accelerated limits (Efron 1987, JASA 82:171-185; Davison & Hinkley 1997,
  /// section 5.3.2): the quantiles at
  ///
  ///     Phi( z0 + (z0 + z) / (1 - a (z0 + z)) ),
  ///
  /// z0 = Phi^-1(F*(log rho)) and a = (1/6) sum l^3 / (sum l^2)^(3/2), l being the influence values
  /// over n of their sample. Not usable as percentile_limits(), or if the correction reaches beyond
  /// all resamples. @throws InputError unless 0 < level < 1.
  OrReason<RatioLimits> bca_limits(double level) const;

  /// Phi( z0 + (z0 + z) / (1 - a (z0 + z)) ), where the divisor is above 0; or else 0 or 1.
  double corrected(double z) const;

  /// The z whose corrected() is this probability; infinite where there is none.
  double uncorrected(double probability) const;

  /// nu = (sum V_s)^2 / sum(V_s^2 / (n_s - 1)) over the samples s, V_s = sum_i (u_i / n_s)^2: the
  /// degrees of freedom of the variance of log rho (Welch 1947, Satterthwaite 1946, for the
  /// variances of means; practice for influence values).
  double degrees_of_freedom() const { return degrees_of_freedom_; }

private:
  void set_law(const RatioData& data);
  void set_influence(const RatioData& data);
  std::string obstacle(const RatioData& data) const;
  OrReason<RatioLimits> limits_at(double p_low, double p_high) const;

  std::shared_ptr<const EtaLaw> law_; ///< Of log rho*.
  double lowest_ = 1;                 ///< That rho* may be, and its highest.
  double highest_ = 1;
  double undefined_ = 0; ///< P*(0/0).
  std::string why_not_;
  double estimate_ = 0;
  double bias_correction_ = 0;
  double acceleration_ = 0;
  double degrees_of_freedom_ = 0;
};

/// What the animals say of eta: BCa at every level, with Student's quantile in place of the normal
/// one, so that few animals are not taken for more than they are,
///
///     F(eta) = T_nu( v / (1 + a v) - z0 ),  v = Phi^-1(F*(eta)) - z0,
///
/// while 1 + a v > 0, and beyond that 0 for a > 0 and 1 for a < 0: what is left lies at the most
/// extreme ratio.
/// What lies beyond `highest`, an infinite ratio too, is put there.
class AnimalsLaw : public EtaLaw {
public:
  /// `bootstrap` must have limits.
  AnimalsLaw(Bootstrap bootstrap, double highest);

  double probability_below(double eta) const override;
  double least() const override { return least_; }
  double most() const override { return 1; }

private:
  double find_quantile(double p) const override;

  /// F where so much is resampled below.
  double student(double resampled) const;

  Bootstrap bootstrap_;
  double highest_;
  double least_ = 0;
};

} // namespace eggfall
