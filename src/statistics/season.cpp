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

SeasonedEvidence::SeasonedEvidence(std::optional<double> paired, const GuardedOrReason& law,
                                   const LogRatioDensity& season) {
  if (paired)
    reduction_ = 1 - (1 - *paired) / std::exp(season.quantile(0.5).value);
  guarded_.why_not = law.why_not;
  if (law.law)
    guarded_.law = law.law->changed(
        [&](const LogRatioDensity& witness) { return difference(witness, season); });
}

Interval SeasonedEvidence::interval(Method method, double level) const {
  check_level(level);
  if (method != Method::guarded_posterior)
    return reduction_interval(method, level, no_limits("it makes no use of a season"));
  return reduction_interval(
      method, level, guarded_.law ? guarded_.law->limits(level) : no_limits(guarded_.why_not));
}

} // namespace eggfall
