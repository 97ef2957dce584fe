#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "statistics/eta_law.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace eggfall {

/// Eggs of one set of animals sampled on two occasions, B above the fraction bar and A below it,
/// taken as Poisson at levels that are known but for their ratio. Given the n_i = a_i + b_i eggs
/// that were counted at factors f_below,i and f_above,i (EPG per egg seen),
///
///     X = sum_i Binomial(n_i, p_i),  logit p_i = eta + log(f_below,i / f_above,i),
///
/// is what the eggs above the bar might have been at rho = e^eta: a finer count above the bar (a
/// smaller factor there) makes more of the eggs fall above it. At equal factors X is one
/// Binomial(A + B, rho/(1 + rho)). Whether a sample was pooled of several animals does not matter:
/// its EPG is their mean on both occasions. B is all that the counts say of eta, since every p_i
/// hangs on eta by the same term.
class SummedEggs {
public:
  /// Animals sampled on both occasions.
  /// @throws CalculationError if the two sides differ in length.
  static SummedEggs of_pairs(const Arm& arm);

  /// Two groups of animals sampled once. Each mean, in EPG, is of sum 1/f times as many eggs, so
  /// that the totals are two Poisson counts and p is one for all eggs:
  /// logit p = eta + log(sum_above 1/f / sum_below 1/f).
  static SummedEggs of_groups(const std::vector<Count>& above, const std::vector<Count>& below);

  /// F(eta) = P(X > B) + P(X = B)/2, the mid-P (Lancaster 1961, JASA 56:223-234): rises from
  /// least() to most(). Animals of one ratio of factors are one binomial, and F is two incomplete
  /// beta functions. For several ratios
  ///
  ///     F = 1/2 + (1/2 pi) integral_0^pi E[sin((X - B) t)] cot(t/2) dt,
  ///
  /// which is exact for whole numbers; so is its midpoint sum with N nodes on the whole circle, but
  /// for X further than N from B. N is chosen so that such an X has a chance below 1e-13, and the
  /// few nodes near 0 hold all that counts: the cost goes with the number of ratios and not with
  /// that of eggs.
  double probability_below(double log_ratio) const;

  /// F at no egg above the bar to be expected, and at none below it: 0 and 1, but 1/2 where that is
  /// what was counted.
  double least() const { return above_ == 0 ? 0.5 : 0; }
  double most() const { return below_ == 0 ? 0.5 : 1; }

  /// The eta below which F is `probability`, which lies between least() and most().
  double quantile(double probability) const;

  /// Of the estimate of eta that adds half an egg to each side, and its standard error.
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

/// What counts say of rho if nothing but the luck of counting stands between them and the truth:
/// animals neither differ in how they respond nor vary from day to day. No honest interval is
/// narrower, and with few eggs this alone may be wide. After the binomial argument of Dobson et al.
/// 2012, Veterinary Parasitology 186:79-92; by mid-P because exact limits hold the truth more often
/// than they claim.
class CountLuck : public EtaLaw {
public:
  explicit CountLuck(const Comparison& comparison);

  /// F(eta), eta = log(rho): of a paired, two-group or baseline design that of its eggs; of a
  /// controlled one the convolution of its two groups' F,
  ///
  ///     F(eta) = integral_0^1 F_1(eta - Q_2(u)) du,  Q_2 the quantiles of the narrower,
  ///
  /// by the trapezoid rule in logit u, which converges exponentially; what mass F_2 has at minus or
  /// plus infinity counts as such.
  double probability_below(double log_ratio) const override;
  double least() const override { return least_; }
  double most() const override { return most_; }

  /// rho at F = (1 -/+ level)/2. The lower one is 0 where no egg above the bar leaves F above its
  /// probability: then the limits bound rho from one side only. None if no egg below the bar does
  /// the same for the upper one.
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
  double at_least_ = 0;       ///< Adds to F everywhere: the other group's share at minus infinity.
  double least_ = 0;          ///< F at minus and at plus infinity.
  double most_ = 1;
  double middle_ = 0;
  double spread_ = 1;
};

} // namespace eggfall
