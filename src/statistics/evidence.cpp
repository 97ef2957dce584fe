#include "eggfall/statistics/evidence.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/bootstrap.hpp"
#include "statistics/count_luck.hpp"
#include "statistics/egg_totals.hpp"
#include "statistics/log_ratio_interval.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace eggfall {
OrReason<RatioLimits> posterior_limits(const OrReason<LogRatioDensity>& posterior, double level) {
  if (!posterior)
    return WhyNot{posterior.why_not()};
  RatioLimits limits = posterior->limits(level);
  constexpr double largest_error = 0.05; // of the width
  if (*limits.error > largest_error * (limits.upper - limits.lower))
    return WhyNot{"its calculation was not precise enough"};
  return limits;
}

std::vector<Method> methods_for(Design design) {
  std::vector<Method> methods{Method::guarded_posterior, posterior_method(design),
                              Method::bootstrap_bca, Method::bootstrap_percentile};
  if (design != Design::controlled) // four totals are no binomial
    methods.insert(methods.end(), {Method::egg_totals_jeffreys, Method::egg_totals_exact});
  if (pairs_animals(design))
    methods.push_back(Method::paired_log_ratio);
  if (design != Design::controlled)
    methods.push_back(Method::log_ratio_1992);
  return methods;
}

namespace {

/// With fewer animals or pools than this in a group the bootstrap is not heard as a witness.
constexpr std::size_t fewest_for_bootstrap = 5;
/// Nor is it heard if more than this share of its resamples has an infinite ratio.
constexpr double most_unbounded = 0.01;

/// The mean EPG that `counts` would have if `eggs` had been seen in all these samples together.
double mean_with(double eggs, const std::vector<Count>& counts) {
  return eggs / exposure_of(counts);
}

GuardedLaw::HalfEggs half_eggs(const Comparison& comparison) {
  constexpr double half = 0.5;
  const auto mean_seen = [&](const std::vector<Count>& counts) {
    return mean_with(std::max(static_cast<double>(totals_of(counts).eggs), half), counts);
  };
  const Arm& treated = comparison.arms.front();
  const Arm& last = comparison.arms.back();
  const std::vector<Count>& above = treated.above;
  const std::vector<Count>& below = pairs_animals(comparison.design) ? treated.below : last.below;
  // Half an egg replaces the treated group's counts alone: the control's own ratio stays as
  // counted.
  const double of_control = comparison.design == Design::controlled
                                ? std::log(mean_seen(last.above) / mean_seen(last.below))
                                : 0;
  return {std::log(mean_with(half, above) / mean_seen(below)) + of_control,
          std::log(mean_seen(above) / mean_with(half, below)) + of_control};
}

/// The law of the witness `animals`, or nullptr where it is silent.
std::shared_ptr<const EtaLaw> animals_law(const Bootstrap& bootstrap, const RatioData& data,
                                          double highest) {
  for (const RatioSample& sample : data.samples)
    if (sample.animals() < fewest_for_bootstrap)
      return nullptr;
  if (!bootstrap.why_not().empty() || bootstrap.most() < 1 - most_unbounded)
    return nullptr;
  return std::make_shared<const AnimalsLaw>(bootstrap, highest);
}

} // namespace

Evidence::Evidence(Comparison comparison, const PosteriorPriors& priors,
                   const PairedQuadrature& quadrature)
    : comparison_(in_order_of_counts(std::move(comparison))), data_(epg(comparison_)),
      priors_(priors), quadrature_(quadrature) {}

std::optional<double> Evidence::reduction() const {
  const double rho = ratio(data_);
  return std::isfinite(rho) ? std::optional(1 - rho) : std::nullopt;
}

const OrReason<LogRatioDensity>& Evidence::posterior() const {
  if (!posterior_)
    posterior_ = eggfall::posterior(comparison_, priors_, quadrature_);
  return *posterior_;
}

const Bootstrap& Evidence::bootstrap() const {
  if (!bootstrap_)
    bootstrap_ = std::make_shared<const Bootstrap>(data_);
  return *bootstrap_;
}

const OrReason<GuardedLaw>& Evidence::guarded() const {
  if (guarded_)
    return *guarded_;
  constexpr double usual_level = 0.90;
  guarded_ = posterior_limits(posterior(), usual_level).transformed([&](const RatioLimits&) {
    const GuardedLaw::HalfEggs halves = half_eggs(comparison_);
    return GuardedLaw(*posterior(), animals_law(bootstrap(), data_, halves.below),
                      std::make_shared<const CountLuck>(comparison_), halves);
  });
  return *guarded_;
}

Interval Evidence::guarded_interval(double level, double factor) const {
  const OrReason<LogRatioDensity> other =
      eggfall::posterior(comparison_, scaled(priors_, factor), quadrature_);
  OrReason<RatioLimits> limits = posterior_limits(other, level);
  if (limits && guarded())
    limits = guarded()->with_posterior(*other).limits(level);
  return reduction_interval(Method::guarded_posterior, level, limits);
}

OrReason<RatioLimits> Evidence::limits(Method method, double level) const {
  switch (method) {
  case Method::paired_posterior:
  case Method::two_group_posterior:
  case Method::controlled_posterior:
    return posterior_limits(posterior(), level);
  case Method::guarded_posterior:
    return guarded().transformed([&](const GuardedLaw& law) { return law.limits(level); });
  case Method::bootstrap_percentile:
    return bootstrap().percentile_limits(level);
  case Method::bootstrap_bca:
    return bootstrap().bca_limits(level);
  case Method::paired_log_ratio:
    return log_ratio_limits(data_, level);
  case Method::log_ratio_1992:
    return log_ratio_limits(without_pairing(data_), level);
  case Method::egg_totals_jeffreys:
  case Method::egg_totals_exact:
    return egg_totals(comparison_).transformed([&](const EggTotals& totals) {
      return method == Method::egg_totals_exact ? exact_limits(totals, level)
                                                : jeffreys_limits(totals, level);
    });
  }
  throw CalculationError("a method without a case");
}

Interval Evidence::interval(Method method, double level) const {
  check_level(level);
  const std::vector<Method> known = methods();
  if (std::ranges::find(known, method) == known.end())
    return reduction_interval(method, level, WhyNot{"it is not made for this design"});
  return reduction_interval(method, level, limits(method, level));
}

Interval Evidence::headline(double level) const {
  Interval guarded = interval(Method::guarded_posterior, level);
  if (guarded.usable())
    return guarded;
  Interval resampled = interval(Method::bootstrap_bca, level);
  return resampled.usable() ? resampled : guarded;
}

} // namespace eggfall
