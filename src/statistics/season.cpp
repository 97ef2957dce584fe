#include "statistics/season.hpp"

#include "eggfall/statistics/paired_posterior.hpp"

#include <cmath>

namespace eggfall {
namespace {

constexpr double season_scale = 0.35;

double season_prior(double eta) {
  // Student's t with 3 degrees of freedom, but for a constant.
  const double t = eta / season_scale;
  return 1 / ((1 + t * t / 3) * (1 + t * t / 3));
}

} // namespace

LogRatioDensity season_of(const Arm& control, const VariationPrior& within_animals) {
  const double shift = std::log(exposure_of(control.above) / exposure_of(control.below));
  return reweighted(paired_posterior(control, within_animals),
                    [&](double eta) { return season_prior(eta) * std::cosh((eta + shift) / 2); });
}

SeasonedEvidence::SeasonedEvidence(std::optional<double> paired, const OrReason<GuardedLaw>& law,
                                   const LogRatioDensity& season)
    : guarded_(law.transformed([&](const GuardedLaw& of_paired) {
        return of_paired.changed(
            [&](const LogRatioDensity& witness) { return difference(witness, season); });
      })) {
  if (paired)
    reduction_ = 1 - (1 - *paired) / std::exp(season.quantile(0.5).value);
}

Interval SeasonedEvidence::interval(Method method, double level) const {
  check_level(level);
  if (method != Method::guarded_posterior)
    return reduction_interval(method, level, WhyNot{"it makes no use of a season"});
  return reduction_interval(method, level, guarded_.transformed([&](const GuardedLaw& law) {
    return law.limits(level);
  }));
}

} // namespace eggfall
