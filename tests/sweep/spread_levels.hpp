#pragma once

#include "varying_efficacy.hpp"

#include "eggfall/statistics/mean_posterior.hpp"

/// The second one model: as VaryingEfficacy, but the animals' levels have a distribution, so that
/// an animal with many eggs before treatment is expected to have fewer by itself:
///
///     m_i ~ Gamma of mean mu and shape k.
///
/// Priors: eta, tau and c as VaryingEfficacy's; 1/sqrt(k) and mu as the two-group posterior's.
///
///     P(a, b) = integral NB(a; m, alpha) NB(b; m rho, beta) Gamma(m; mu, k) dm
///
/// by the trapezoid rule in log m; eta and log mu on uniform grids, tau, c and 1/sqrt(k) by Gauss
/// rules, on ranges that a coarse look at the group gives. It is made to be right, not fast. Counts
/// must be of one factor.
class SpreadLevels {
public:
  SpreadLevels(const VaryingPriors& priors, const eggfall::MeanPrior& levels, bool fine = false);

  /// @throws eggfall::InputError if no animal has an egg before treatment;
  ///   eggfall::CalculationError if factors differ.
  eggfall::LogRatioDensity posterior(const eggfall::Arm& arm);

private:
  VaryingPriors priors_;
  eggfall::MeanPrior levels_;
  bool fine_; ///< Twice the points, to see what the usual ones leave.
  VaryingEfficacy without_levels_;
};
