#pragma once

#include "eggfall/base/random_stream.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/variation_prior.hpp"

#include <cstddef>
#include <vector>

namespace eggfall {

/// Grid sizes of the quadrature.
struct PairedQuadrature {
  std::size_t eta_points = 65; ///< An odd number, 33 or more; doubled while the 90% limits' error
                               ///< exceeds `largest_error`, up to 257.
  double resolution = 1.15;    ///< The fewest steps of an animal's inner sum in one standard
                               ///< deviation of its likelihood.
  double largest_error = 0.01; ///< As a share of the width of the 90% interval.

  bool operator==(const PairedQuadrature&) const = default;
};

/// A coarser quadrature for simulations, where the luck of the draw hides its error: it takes three
/// quarters of the time, and its limits are off by at most some 4% of the interval's width.
inline constexpr PairedQuadrature coarse_quadrature{33, 1.15, 0.04};

/// Posterior of eta = log(rho), rho = E[EPG after]/E[EPG before], of animals sampled
/// twice. Animal i has its own level m_i in EPG and, on each occasion, its own luck. With factors f
/// in EPG per egg seen, a_i eggs are seen before treatment and b_i after it:
///
///     a_i ~ Poisson(m_i u_i / f_before),  b_i ~ Poisson(m_i rho v_i / f_after),
///     u_i, v_i ~ Gamma with mean 1 and coefficient of variation tau.
///
/// With the prior 1/m_i the level drops out, whatever the counts do BETWEEN animals:
///
///     b_i | n_i = a_i + b_i ~ Binomial(n_i, p_i),
///     logit p_i = eta + log(f_before/f_after) + z_i,
///     z_i = logit s_i,  s_i ~ Beta(1/tau^2, 1/tau^2).
///
/// Priors: that of tau, the variation between two samplings of one animal, is `prior`; rho'/(1 +
/// rho') ~ Beta(1/2, 1/2), rho' being the ratio of the totals of eggs expected to be seen after and
/// before treatment, which is rho (sum 1/f_after)/(sum 1/f_before). As tau goes to 0 the posterior
/// goes to that of the eggs of all animals added up.
///
/// Deterministic: an animal's likelihood is the correlation of its binomial likelihood
/// with the density of z, by the trapezoid rule (which converges exponentially here);
/// tau by the 21-point Gauss-Kronrod rule, the 10-point Gauss rule inside it giving the
/// coarser answer; eta on a grid fitted to the posterior.
///
/// `arm` holds the counts after treatment above the bar and those before below it.
/// @throws InputError if no animal has an egg before treatment; CalculationError if the sides
///   differ in length or are empty, the prior's scale is not above 0, `eta_points` is even or below
///   33, or the posterior is not found.
LogRatioDensity paired_posterior(const Arm& arm, const VariationPrior& prior,
                                 const PairedQuadrature& quadrature = {});

/// A value of the unknowns of the paired model.
struct PairedState {
  double log_ratio = 0; ///< eta
  double tau = 0;
};

/// `size` independent draws from the joint posterior of eta and tau: a bin of the quadrature's
/// grid by its probability, then a uniform place in the bin of eta (tau stays at its node).
/// @throws InputError and CalculationError as paired_posterior().
std::vector<PairedState> draw_paired(const Arm& arm, const VariationPrior& prior, std::size_t size,
                                     RandomStream& stream);

} // namespace eggfall
