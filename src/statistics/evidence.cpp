#include "eggfall/statistics/evidence.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/egg_totals.hpp"
#include "eggfall/statistics/log_ratio_interval.hpp"
#include "statistics/count_luck.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace eggfall {
RatioLimits posterior_limits(const PosteriorOrReason& posterior, double level) {
  if (!posterior.density)
    return no_limits(posterior.why_not);
  RatioLimits limits = posterior.density->limits(level);
  constexpr double largest_error = 0.05; // of the width
  if (*limits.error > largest_error * (limits.upper - limits.lower))
    return no_limits("its calculation was not precise enough");
  return limits;
}

std::vector<Method> methods_for(Design design) {
  std::vector<Method> methods{Method::guarded_posterior, posterior_method(design),
                              Method::bootstrap_bca, Method::bootstrap_percentile};
  if (design != Design::controlled) // four totals are no binomial
    methods.insert(methods.end(), {Method::pooled_count_jeffreys, Method::pooled_count_exact});
  if (pairs_animals(design))
    methods.push_back(Method::paired_log_ratio);
  if (design != Design::controlled)
    methods.push_back(Method::log_ratio_1992);
  return methods;
}

Evidence::Evidence(Comparison comparison, const BootstrapSettings& bootstrap,
                   const PosteriorPriors& priors, const PairedQuadrature& quadrature)
    : comparison_(std::move(comparison)), data_(epg(comparison_)), settings_(bootstrap),
      priors_(priors), quadrature_(quadrature) {}

std::optional<double> Evidence::reduction() const {
  const double rho = ratio(data_);
  return std::isfinite(rho) ? std::optional(1 - rho) : std::nullopt;
}

const PosteriorOrReason& Evidence::posterior() const {
  if (!posterior_)
    posterior_ = eggfall::posterior(comparison_, priors_, quadrature_);
  return *posterior_;
}

Interval Evidence::guarded_interval(double level, double by) const {
  return reduction_interval(
      Method::guarded_posterior, level,
      guarded(posterior_limits(eggfall::posterior(comparison_, scaled(priors_, by), quadrature_),
                               level),
              level)
          .rho);
}

std::optional<GuardedBy> Evidence::guarded_by(double level) const {
  check_level(level);
  const GuardedLimits result = guarded(posterior_limits(posterior(), level), level);
  return result.rho.usable() ? std::optional(result.by) : std::nullopt;
}

bool Evidence::outside_posterior() const {
  const double rho = ratio(data_);
  if (!posterior().density || !(rho > 0) || !std::isfinite(rho))
    return false;
  constexpr double level = 0.90;
  const RatioLimits limits = posterior().density->limits(level);
  return rho < limits.lower || rho > limits.upper;
}

RatioLimits Evidence::luck_limits(double level) const {
  if (!luck_)
    luck_ = std::make_shared<const CountLuck>(comparison_);
  return luck_->limits(level);
}

Evidence::GuardedLimits Evidence::guarded(RatioLimits posterior_limits, double level) const {
  GuardedLimits result{std::move(posterior_limits), {}};
  if (!result.rho.usable())
    return result;
  const auto let_fall_to = [&](double rho, Witness witness) {
    if (rho > result.rho.upper) {
      result.rho.upper = rho;
      result.by.lower = witness;
    }
  };
  const auto let_rise_to = [&](double rho, Witness witness) {
    if (rho < result.rho.lower) {
      result.rho.lower = rho;
      result.by.upper = witness;
    }
  };
  if (const RatioLimits resampled = limits(Method::bootstrap_bca, level); resampled.usable()) {
    let_fall_to(resampled.upper, Witness::animals);
    let_rise_to(resampled.lower, Witness::animals);
  }
  if (const RatioLimits luck = luck_limits(level); luck.usable()) {
    let_fall_to(luck.upper, Witness::luck);
    if (luck.lower > 0) // with no egg after treatment it bounds the reduction from below alone
      let_rise_to(luck.lower, Witness::luck);
  }
  return result;
}

RatioLimits Evidence::limits(Method method, double level) const {
  switch (method) {
  case Method::paired_posterior:
  case Method::two_group_posterior:
  case Method::controlled_posterior:
    return posterior_limits(posterior(), level);
  case Method::guarded_posterior:
    return guarded(posterior_limits(posterior(), level), level).rho;
  case Method::bootstrap_percentile:
  case Method::bootstrap_bca:
    if (!resamples_)
      resamples_ = bootstrap(data_, settings_);
    return method == Method::bootstrap_bca ? bca_limits(*resamples_, level)
                                           : percentile_limits(*resamples_, level);
  case Method::paired_log_ratio:
    return log_ratio_limits(data_, level);
  case Method::log_ratio_1992:
    return log_ratio_limits(without_pairing(data_), level);
  case Method::pooled_count_jeffreys:
  case Method::pooled_count_exact: {
    EggTotalsOrReason pool = egg_totals(comparison_);
    if (!pool.why_not.empty())
      return no_limits(std::move(pool.why_not));
    return method == Method::pooled_count_exact ? exact_limits(pool.totals, level)
                                                : jeffreys_limits(pool.totals, level);
  }
  }
  throw CalculationError("a method without a case");
}

Interval Evidence::interval(Method method, double level) const {
  check_level(level);
  const std::vector<Method> known = methods();
  if (std::ranges::find(known, method) == known.end())
    return reduction_interval(method, level, no_limits("it is not made for this design"));
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
