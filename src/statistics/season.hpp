#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/worm_evidence.hpp"

#include <optional>

namespace eggfall {

/// The law of the season's change of the counts between the two days: of eta = log(rho_season),
/// rho_season = E[EPG after]/E[EPG before] of untreated animals. The prior of eta is Student's t
/// with 3 degrees of freedom and scale 0.35: 0.56 to 1.8 times in eight years of ten, with tails
/// that still let a control show more. It is multiplied by the likelihood of the control's counts,
///
///     p(eta) ~ t_3(eta / 0.35) f_control(eta) cosh((eta + log(f_before / f_after)) / 2),
///
/// t_3 being the density of Student's t, f_control that of the control's own paired_posterior()
/// with the prior `within_animals` of its variation, and f_before and f_after its factors in EPG
/// per egg (of several, their harmonic means). The cosh takes the prior of that posterior out. The
/// prior of the season is practice, chosen by audit (docs/audit.md): with none, the season would be
/// known from the control's counts alone, which would cost as much precision as the controlled
/// design does. `control` holds the untreated animals' counts on the later day above the bar, and
/// those on the earlier day below it.
/// @throws CalculationError and InputError as paired_posterior().
LogRatioDensity season_of(const Arm& control, const VariationPrior& within_animals);

/// What a paired comparison says about the drench's own reduction: eta_drench = eta_paired -
/// eta_season, the season being taken out of each witness by itself. It has the members that
/// Evidence and WormEvidence have, so that callers can treat all three alike.
class SeasonedEvidence {
public:
  /// `paired` is the observed reduction of a paired comparison, a proportion, and `law` its guarded
  /// law. Nothing refers to the arguments afterwards.
  SeasonedEvidence(std::optional<double> paired, const OrReason<GuardedLaw>& law,
                   const LogRatioDensity& season);

  Design design() const { return Design::paired; }

  /// The observed reduction 1 - rho / rho_season, rho_season being at its median; nothing if
  /// `paired` was nothing.
  std::optional<double> reduction() const { return reduction_; }

  /// The limits of the reduction by Method::guarded_posterior; not usable by another method.
  /// @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;
  Interval headline(double level) const { return interval(Method::guarded_posterior, level); }

  const OrReason<GuardedLaw>& guarded() const { return guarded_; }

private:
  std::optional<double> reduction_;
  OrReason<GuardedLaw> guarded_;
};

} // namespace eggfall
