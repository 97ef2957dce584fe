#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/variation_prior.hpp"
#include "statistics/nested_rule.hpp"
#include "statistics/posterior_grid.hpp"

#include <Eigen/Core>

#include <vector>

namespace eggfall {

/// Animals with the same counts at the same factors before and after treatment, which therefore say
/// the same of eta. With p the chance that an egg seen in one of them is one of those after
/// treatment, and softplus(x) = log(1 + e^x), the likelihood of each as a function of x = logit p
/// is
///
///     exp(b x - n softplus(x)), b eggs after of n in all.
class CountPair {
public:
  /// `total_seen`, above 0, are the eggs seen in one animal on both occasions, of which
  /// `after_seen` were seen after treatment; `how_many` animals have these counts.
  CountPair(double after_seen, double total_seen, double log_factor_ratio, double how_many);

  double after;
  double total;
  double shift;   ///< log(f_before / f_after)
  double animals; ///< How many animals share these counts.
  double sd;      ///< About the standard deviation of x by the likelihood.
  double mode;    ///< The x of the highest likelihood; if none, where it leaves its plateau.
  double highest; ///< Log likelihood at its mode; where it has a plateau instead, 0.
  double at_mode; ///< Log likelihood at `mode`, below the highest.
  Range window;   ///< Of x: where it is not negligible, or not yet a plateau.

  bool falls_to_plateau() const { return after == 0; }     ///< On the left.
  bool rises_to_plateau() const { return after == total; } ///< On the right.
};

/// The animals of an arm by their counts and factors. Those without any egg say nothing of eta and
/// are left out. Both sides of `arm` must have one length, which is not checked.
std::vector<CountPair> distinct_pairs(const Arm& arm);

/// One value of tau: the distribution of z = logit s, s ~ Beta(kappa, kappa), kappa = 1/tau^2, of
/// density cosh(z/2)^(-2 kappa) / (4^kappa B(kappa, kappa)); and its weights in two rules.
struct TauNode {
  double tau = 0;
  double kappa = 0;
  double log_norm = 0;   ///< log B(kappa, kappa)
  double sd = 0;         ///< Standard deviation of z.
  double reach = 0;      ///< The |z| beyond which its density is negligible.
  double log_weight = 0; ///< Weight times prior.
  double log_coarse = 0; ///< The same in the coarser rule; -infinity if it lacks this node.
};

/// The nodes of a rule with their weights, in its order.
std::vector<TauNode> tau_nodes(const std::vector<RuleNode>& rule, const VariationPrior& prior);

/// Log likelihood of all pairs together at every eta (rows) and tau (columns), but for a constant:
///
///     sum_i animals_i log integral L_i(eta + shift_i + z) g(z; tau) dz,
///
/// g(z; tau) being the density of z, and L_i the likelihood of a CountPair scaled to a highest, or
/// to a plateau, of 1. The integral is a sum by the trapezoid rule, which converges exponentially
/// here, at steps of at most 1/`resolution` standard deviations of L_i. The result is -infinity
/// where all terms are negligible. The grid has four points or more.
Eigen::ArrayXXd paired_log_likelihood(const std::vector<CountPair>& pairs,
                                      const std::vector<TauNode>& nodes, const EtaGrid& grid,
                                      double resolution);

} // namespace eggfall
