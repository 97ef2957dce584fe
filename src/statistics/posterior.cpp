#include "eggfall/statistics/posterior.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/paired_posterior.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

bool without_eggs(const std::vector<Count>& counts) {
  return totals_of(counts).eggs == 0;
}

OrReason<LogRatioDensity> calculated(const Comparison& comparison, const PosteriorPriors& priors,
                                     const PairedQuadrature& quadrature) {
  const Arm& treated = comparison.arms.front();
  const Arm& last = comparison.arms.back();
  switch (comparison.design) {
  case Design::paired:
    if (without_eggs(treated.below))
      return WhyNot{"no animal had an egg before treatment"};
    return paired_posterior(treated, priors.within_animals, quadrature);
  case Design::two_group:
  case Design::baseline:
    if (without_eggs(last.below))
      return WhyNot{"no egg was counted in the control group"};
    return two_means_posterior(treated.above, last.below, priors.mean);
  case Design::controlled:
    break;
  }
  // The control arm has its counts before above the bar, since they multiply rho.
  if (without_eggs(treated.below) || without_eggs(last.above))
    return WhyNot{"a group had no egg before treatment"};
  if (without_eggs(last.below))
    return WhyNot{"the control group had no egg after treatment"};
  return difference(paired_posterior(treated, priors.within_animals, quadrature),
                    paired_posterior({last.below, last.above}, priors.within_animals, quadrature));
}

} // namespace

PosteriorPriors scaled(const PosteriorPriors& priors, double factor) {
  PosteriorPriors result = priors;
  result.within_animals.scale *= factor;
  result.mean.between_animals.scale *= factor;
  return result;
}

OrReason<LogRatioDensity> posterior(const Comparison& comparison, const PosteriorPriors& priors,
                                    const PairedQuadrature& quadrature) {
  try {
    return calculated(comparison, priors, quadrature);
  } catch (const CalculationError& error) {
    // One odd group must not take the others' results with it.
    return WhyNot{fmt::format("its calculation failed: {}", error.what())};
  }
}

Method posterior_method(Design design) {
  switch (design) {
  case Design::paired:
    return Method::paired_posterior;
  case Design::two_group:
  case Design::baseline:
    return Method::two_group_posterior;
  case Design::controlled:
    break;
  }
  return Method::controlled_posterior;
}

} // namespace eggfall
