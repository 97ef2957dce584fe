#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "statistics/eta_law.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace eggfall {

/// The eggs of one comparison of two sides, B of them counted above the fraction bar and A below
/// it, taken as Poisson with means that are known but for their ratio. Animal i, sampled on both
/// occasions, shows b_i eggs above the bar and a_i below it, n_i = a_i + b_i in all, at factors of
/// f_above,i and f_below,i EPG per egg seen. Given the n_i,
///
///     X = sum_i Binomial(n_i, p_i),  logit p_i = eta + log(f_below,i / f_above,i),
///
/// is the number of eggs that might have been counted above the bar at rho = e^eta. A finer count
/// above the bar (a smaller factor there) makes more of the eggs fall above it. At equal factors X
/// is one Binomial(A + B, rho/(1 + rho)). Whether a sample was pooled of several animals does not
/// matter: its EPG is their mean on both occasions. B is a sufficient statistic for eta, since
/// every logit p_i depends on eta by the same term.
class SummedEggs {
public:
  /// Animals sampled on both occasions.
  /// @throws CalculationError if the two sides differ in length.
  static SummedEggs of_pairs(const Arm& arm);

  /// Two groups of animals sampled once. A group with a mean of m EPG is expected to show m times
  /// the sum of its 1/f eggs, so that the totals of eggs are two Poisson counts and p is one for
  /// all eggs: logit p = eta + log(sum_above 1/f / sum_below 1/f).
  static SummedEggs of_groups(const std::vector<Count>& above, const std::vector<Count>& below);

  /// F(eta) = P(X > B) + P(X = B)/2, the mid-P (Lancaster 1961, JASA 56:223-234), where eta is
  /// `log_ratio`. It rises from least() to most(), and is 1/2 where no egg was counted at all.
  /// Where all animals have one ratio of factors X is one binomial, and F is two incomplete beta
  /// functions. For several ratios
  ///
  ///     F = 1/2 + (1/2 pi) integral_0^pi E[sin((X - B) t)] cot(t/2) dt,
  ///
  /// which is exact for a whole number X - B. The midpoint sum with N nodes on the whole circle is
  /// exact too, except where X is further than N from B; N is chosen so that this has a chance
  /// below 1e-13. The few nodes near 0 hold all that counts, so that the cost grows with the number
  /// of ratios and not with that of eggs.
  double probability_below(double log_ratio) const;

  /// F at eta = -infinity, where no egg is expected above the bar, and at +infinity, where none is
  /// expected below it. They are 0 and 1, but 1/2 where no egg was in fact counted on that side.
  double least() const { return above_ == 0 ? 0.5 : 0; }
  double most() const { return below_ == 0 ? 0.5 : 1; }

  /// The eta below which F is `probability`, which lies between least() and most().
  double quantile(double probability) const;

  /// About the estimate of eta, with half an egg added to each side, and its standard error: where
  /// a search for a quantile begins, and by which steps.
  double middle() const;
  double spread() const;

private:
  /// Eggs of animals whose factors have one ratio.
  struct Part {
    double shift = 0; ///< Added to eta.
    double eggs = 0;
  };

  double binomial(double log_ratio) const;
  double sum_of_binomials(double log_ratio) const;

  std::vector<Part> parts_; ///< Only those with eggs.
  double above_ = 0;
  double below_ = 0;
};

/// The law of the witness `luck`: what counts say of rho if nothing but the luck of counting stands
/// between them and the truth, so that animals neither differ in how they respond nor vary from day
/// to day. No honest interval is narrower, and with few eggs even this one may be wide. The
/// argument is the binomial one of Dobson et al. 2012, Veterinary Parasitology 186:79-92. The
/// limits are by mid-P, because exact limits hold the truth more often than they claim.
class CountLuck : public EtaLaw {
public:
  /// The arms must be those of the design, as compare() makes them.
  explicit CountLuck(const Comparison& comparison);

  /// F(eta), eta = log(rho) being `log_ratio`. Of a paired, two-group or baseline design it is that
  /// of the SummedEggs of the comparison. Of a controlled one eta is the sum of the treated group's
  /// eta and the control's, and F is the convolution of their two F,
  ///
  ///     F(eta) = integral_0^1 F_1(eta - Q_2(u)) du,
  ///
  /// Q_2 being the quantiles of the group with the narrower law. The integral is by the trapezoid
  /// rule in logit u, which converges exponentially. Probability that F_2 has at minus or plus
  /// infinity puts the sum there too.
  double probability_below(double log_ratio) const override;
  double least() const override { return least_; }
  double most() const override { return most_; }

  /// Limits of rho: where F is (1 - level)/2 and (1 + level)/2. Where no egg was counted above the
  /// bar F never falls to the lower probability; the lower limit is then 0, and the limits bound
  /// rho from above alone. Where no egg was counted below the bar F never rises to the upper
  /// probability, and there are no limits.
  /// @throws InputError unless 0 < level < 1.
  OrReason<RatioLimits> limits(double level) const;

private:
  double find_quantile(double p) const override;

  /// A value that the second group's eta may take, and its probability.
  struct Shift {
    double log_ratio = 0;
    double probability = 0;
  };

  void convolve_with(const SummedEggs& other);

  SummedEggs eggs_;
  std::vector<Shift> shifts_; ///< Of another group; empty without one.
  double at_least_ = 0;       ///< Probability of a sum of minus infinity through the other group.
  double least_ = 0;          ///< F at minus and at plus infinity.
  double most_ = 1;
  double middle_ = 0;
  double spread_ = 1;
};

} // namespace eggfall
