#pragma once

#include "eggfall/base/or_reason.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/mean_posterior.hpp"
#include "eggfall/statistics/paired_posterior.hpp"
#include "eggfall/statistics/variation_prior.hpp"

namespace eggfall {

struct PosteriorPriors {
  VariationPrior within_animals{1.2}; ///< Paired and controlled designs.
  MeanPrior mean;                     ///< Two-group and baseline designs.

  bool operator==(const PosteriorPriors&) const = default;
};

/// The priors with both scales of variation multiplied, within animals and between them: a design
/// uses one of the two.
PosteriorPriors scaled(const PosteriorPriors& priors, double factor);

/// The posterior of log(rho), rho = 1 - reduction, of any design: paired_posterior(); for two
/// groups two_means_posterior(); for controlled the difference of the treated
/// and the control group's paired_posterior().
/// None if there is no egg to compare with (before treatment, or in the control), or if the
/// calculation fails (counts and factors of absurd spread).
OrReason<LogRatioDensity> posterior(const Comparison& comparison, const PosteriorPriors& priors,
                                    const PairedQuadrature& quadrature = {});

/// Which of the posterior methods serves a design.
Method posterior_method(Design design);

} // namespace eggfall
