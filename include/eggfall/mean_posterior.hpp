#pragma once

#include "eggfall/egg_count.hpp"
#include "eggfall/log_ratio_density.hpp"
#include "eggfall/random_stream.hpp"
#include "eggfall/variation_prior.hpp"

#include <cstddef>
#include <vector>

namespace eggfall {

/// Prior of a group's counts.
struct MeanPrior {
  VariationPrior between_animals{1.5}; ///< Of 1/sqrt(k), the variation between animals.
  double middle_eggs = 100;            ///< Eggs seen: half the prior mean is above, half below.

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

/// A value of the unknowns of a group's counts.
struct MeanState {
  double mean_epg = 0;
  double k = 0;
};

/// `size` independent draws from the joint posterior of the mean and k; see draw_paired().
/// @throws as mean_posterior().
std::vector<MeanState> draw_mean(const std::vector<Count>& counts, const MeanPrior& prior,
                                 std::size_t size, RandomStream& stream);

} // namespace eggfall
