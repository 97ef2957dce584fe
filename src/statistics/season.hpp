#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/worm_evidence.hpp"

#include <optional>

namespace eggfall {

/// The season's change of the counts between the two days, rho_season = E[EPG after]/E[EPG before]
/// of untreated animals, as an unknown: a prior of its logarithm (Student's t with 3 degrees of
/// freedom and scale 0.35: 0.56 to 1.8 times in eight years of ten, and yet not deaf to a
/// control that shows more) times the likelihood of the control's counts,
///
///     p(eta) ~ t_3(eta / 0.35) f_control(eta) cosh((eta + log(f_before / f_after)) / 2),
///
/// f_control being the control's own paired_posterior(), whose prior the last factor takes out, and
/// the f its factors. The prior is practice, chosen by audit (docs/audit.md): a season of its own
/// for each control would cost as much as the controlled design, which has none.
/// `control` has the counts after above the bar, and those before below it.
/// @throws CalculationError and InputError as paired_posterior().
LogRatioDensity season_of(const Arm& control, const VariationPrior& within_animals);

/// What a paired comparison says about the drench's own reduction, the season taken out of each
/// witness: eta_drench = eta_paired - eta_season. Shaped as Evidence and WormEvidence are.
class SeasonedEvidence {
public:
  /// Of the observed ratio and the law of a paired comparison, of which what is needed is kept.
  SeasonedEvidence(std::optional<double> paired, const OrReason<GuardedLaw>& law,
                   const LogRatioDensity& season);

  Design design() const { return Design::paired; }

  /// 1 - rho / rho_season, the season at its median.
  std::optional<double> reduction() const { return reduction_; }

  /// Only of Method::guarded_posterior. @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;
  Interval headline(double level) const { return interval(Method::guarded_posterior, level); }

  const OrReason<GuardedLaw>& guarded() const { return guarded_; }

private:
  std::optional<double> reduction_;
  OrReason<GuardedLaw> guarded_;
};

} // namespace eggfall
