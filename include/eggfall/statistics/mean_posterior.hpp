#pragma once

#include "eggfall/base/random_stream.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/variation_prior.hpp"
#include "eggfall/trial/egg_count.hpp"

#include <cstddef>
#include <vector>

namespace eggfall {

/// Prior of the mean and of the variation of a group's counts.
struct MeanPrior {
  VariationPrior between_animals{2.0}; ///< Of 1/sqrt(k), the variation between animals.
  double middle_eggs = 30;             ///< The prior's median of the mean, in eggs seen; above 0.
  /// In two groups: the scale on which the log ratio of their 1/sqrt(k) departs from 0; above 0.
  double cv_ratio = 0.5;

  bool operator==(const MeanPrior&) const = default;
};

/// Posterior of eta = log(m), m being the mean EPG of a group of animals sampled once. Animal i,
/// counted at a factor of f_i EPG per egg, shows x_i eggs:
///
///     x_i ~ negative binomial with mean m/f_i and aggregation parameter k.
///
/// Priors: that of the coefficient of variation 1/sqrt(k) is `between_animals`. With c =
/// `middle_eggs` and m' the mean in eggs seen (m divided by the harmonic mean of the f_i), m'/(m' +
/// c) ~ Beta(1/2, 1/2). Per unit of log m' this is m'^(1/2) (Jeffreys' prior of a Poisson mean) far
/// below c and m'^(-1/2) far above it; the falling tail keeps a few clumped counts from allowing a
/// mean without limit.
///
/// Deterministic: 1/sqrt(k) by the 31-point Gauss-Kronrod rule with the 15-point Gauss rule
/// inside it, eta on a grid fitted to the posterior.
/// @throws CalculationError if there are no counts, a prior's scale or `middle_eggs` is not above
///   0, or the posterior is not found.
LogRatioDensity mean_posterior(const std::vector<Count>& counts, const MeanPrior& prior);

/// Posterior of eta = log(mean EPG above / mean EPG below) of two groups, each as in
/// mean_posterior(), but with aggregations that resemble each other. The joint prior of the
/// groups' coefficients of variation g = 1/sqrt(k) is
///
///     p(g_above, g_below) ~ h(g_above) h(g_below) exp(-log(g_above/g_below)^2 / (2 s^2)),
///
/// h being the prior of one group's g and s `cv_ratio`. A group with few eggs, which says little of
/// its own k, so borrows from the other; as s grows without limit the groups become independent.
///
/// Deterministic: for every pair of nodes of the two groups' rules for g the groups' densities are
/// convolved, on grids of a common step, and these convolutions are summed by their weights.
/// @throws CalculationError as mean_posterior(), or if `cv_ratio` is not above 0.
LogRatioDensity two_means_posterior(const std::vector<Count>& above,
                                    const std::vector<Count>& below, const MeanPrior& prior);

/// A value of the unknowns of a group's counts.
struct MeanState {
  double mean_epg = 0;
  double k = 0;
};

struct TwoMeansState {
  MeanState above;
  MeanState below;
};

/// `size` independent draws from the joint posterior of both means (in EPG) and both k: first a
/// pair of nodes of the rules by its probability, then for each group a bin of eta by its
/// probability and a uniform place in that bin.
/// @throws CalculationError as two_means_posterior().
std::vector<TwoMeansState> draw_two_means(const std::vector<Count>& above,
                                          const std::vector<Count>& below, const MeanPrior& prior,
                                          std::size_t size, RandomStream& stream);

} // namespace eggfall
