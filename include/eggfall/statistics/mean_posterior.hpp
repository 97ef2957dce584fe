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
  double middle_eggs = 30;             ///< Eggs seen: half the prior mean is above, half below.
  double cv_ratio = 0.5; ///< Of two groups: how far the log ratio of their 1/sqrt(k) is from 0.

  bool operator==(const MeanPrior&) const = default;
};

/// Posterior of eta = log(mean EPG) of a group of animals sampled once:
///
///     x_i ~ negative binomial with mean m/f_i and aggregation parameter k.
///
/// Priors: 1/sqrt(k) as given; with c = `middle_eggs` and m' the mean in eggs seen,
/// m'/(m' + c) ~ Beta(1/2, 1/2), which is m'^(1/2) (Jeffreys' prior of a Poisson mean) far
/// below c and m'^(-1/2) far above it, per unit of log m'. The tail keeps a few clumped
/// counts from allowing a mean without limit.
///
/// Deterministic: 1/sqrt(k) by the 31-point Gauss-Kronrod rule with the 15-point Gauss rule
/// inside it, eta on a grid fitted to the posterior.
/// @throws CalculationError if there are no counts or a prior's scale is not above 0.
LogRatioDensity mean_posterior(const std::vector<Count>& counts, const MeanPrior& prior);

/// Posterior of eta = log(mean EPG above / mean EPG below) of two groups, each as in
/// mean_posterior(), but with aggregations that resemble each other. The joint prior of the
/// groups' coefficients of variation g = 1/sqrt(k) is
///
///     p(g_above, g_below) ~ h(g_above) h(g_below) exp(-log(g_above/g_below)^2 / (2 s^2)),
///
/// h being the prior of one group and s `cv_ratio`: a group with few eggs borrows its k from the
/// other. As s grows without limit the groups become independent.
///
/// Deterministic: the sum over both rules of the convolutions of the groups' densities, on grids
/// of one step.
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

/// `size` independent draws from the joint posterior of both means and both k: a pair of nodes by
/// its probability, then each group's mean; see draw_paired().
/// @throws CalculationError as two_means_posterior().
std::vector<TwoMeansState> draw_two_means(const std::vector<Count>& above,
                                          const std::vector<Count>& below, const MeanPrior& prior,
                                          std::size_t size, RandomStream& stream);

} // namespace eggfall
