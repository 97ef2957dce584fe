#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/variation_prior.hpp"
#include "statistics/nested_rule.hpp"
#include "statistics/posterior_grid.hpp"

#include <Eigen/Core>

#include <vector>

namespace eggfall {

/// Animals with the same counts at the same factors before and after treatment: they say the same
/// of eta. As a function of x = logit p, p being the chance of an egg to be one of those after,
/// each one's likelihood is
///
///     exp(b x - n softplus(x)), b eggs after of n in all.
class CountPair {
public:
  /// `total_seen`, above 0, are the eggs of one animal, of which `after_seen` are of after.
  CountPair(double after_seen, double total_seen, double log_factor_ratio, double how_many);

  double after;
  double total;
  double shift;   ///< log(f_before / f_after)
  double animals; ///< How many animals share these counts.
  double sd;      ///< Of the likelihood, about.
  double mode;    ///< Of x; if there is none, where the likelihood leaves its plateau.
  double highest; ///< Log likelihood at its mode, or on its plateau: 0.
  double at_mode; ///< Log likelihood at `mode`, below the highest.
  Range window;   ///< Of x: where it is not negligible, or not yet a plateau.

  bool falls_to_plateau() const { return after == 0; }     ///< On the left.
  bool rises_to_plateau() const { return after == total; } ///< On the right.
};

/// Animals without any egg say nothing, and are left out. Both sides of `arm` have one length.
std::vector<CountPair> distinct_pairs(const Arm& arm);

/// One value of tau: the distribution of z = logit s, s ~ Beta(kappa, kappa), kappa = 1/tau^2, of
/// density cosh(z/2)^(-2 kappa) / (4^kappa B(kappa, kappa)); and its weights in two rules.
struct TauNode {
  double tau = 0;
  double kappa = 0;
  double log_norm = 0;   ///< log B(kappa, kappa)
  double sd = 0;         ///< Of z.
  double reach = 0;      ///< Beyond this z is negligible.
  double log_weight = 0; ///< Weight times prior.
  double log_coarse = 0; ///< The same in the coarser rule; -infinity if it lacks this node.
};

/// The nodes of a rule with their weights, in its order.
std::vector<TauNode> tau_nodes(const std::vector<RuleNode>& rule, const VariationPrior& prior);

/// Log likelihood of all pairs together at every eta (rows) and tau (columns), but for a constant:
///
///     sum_i animals_i log integral L_i(eta + shift_i + z) g(z; tau) dz,
///
/// L_i having its highest or its plateau at 1. The integral is a sum by the trapezoid rule, which
/// converges exponentially here, at steps of at most 1/`resolution` standard deviations of L_i;
/// -infinity where all terms are negligible. The grid has four points or more.
Eigen::ArrayXXd paired_log_likelihood(const std::vector<CountPair>& pairs,
                                      const std::vector<TauNode>& nodes, const EtaGrid& grid,
                                      double resolution);

} // namespace eggfall
