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

/// The priors with both scales of variation multiplied by `factor`, that within animals and that
/// between them, so that the call is the same for every design: each uses one of the two.
PosteriorPriors scaled(const PosteriorPriors& priors, double factor);

/// The posterior of eta = log(rho), rho = 1 - reduction. Of a paired design it is
/// paired_posterior(); of a two-group or baseline one two_means_posterior(); of a controlled one
/// the difference() of the treated group's and the control group's paired_posterior(). There is
/// none, but a reason, if there is no egg to compare with (before treatment, or in the control), or
/// if the calculation fails, as it may on counts and factors of absurd spread.
OrReason<LogRatioDensity> posterior(const Comparison& comparison, const PosteriorPriors& priors,
                                    const PairedQuadrature& quadrature = {});

/// The method under which the unguarded posterior() of a design is shown.
Method posterior_method(Design design);

} // namespace eggfall
