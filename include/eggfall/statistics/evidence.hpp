#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/ratio_data.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace eggfall {

class Bootstrap;

/// The methods that suit a design. The first is the guarded posterior, which Evidence::headline()
/// shows where it can.
std::vector<Method> methods_for(Design design);

/// A posterior's equal-tailed limits of rho; none if there is no posterior, or if its quadrature
/// error exceeds a twentieth of the interval's width.
/// @throws InputError unless 0 < level < 1, where there is a posterior.
OrReason<RatioLimits> posterior_limits(const OrReason<LogRatioDensity>& posterior, double level);

/// What one comparison says about the reduction: its value, and limits by every
/// method the design allows, at any level. The posterior and the bootstrap are worked out once, on
/// first use; nothing is drawn at random.
///
/// Results are kept once worked out, and copies of a guarded() law share them without a lock. An
/// Evidence, its law and all copies of that law must therefore be used by one thread at a time;
/// each thread needs an Evidence of its own.
class Evidence {
public:
  /// @throws CalculationError as in_order_of_counts().
  Evidence(Comparison comparison, const PosteriorPriors& priors,
           const PairedQuadrature& quadrature = {});

  /// The comparison that was given, in_order_of_counts().
  const Comparison& comparison() const { return comparison_; }
  Design design() const { return comparison_.design; }

  /// The observed reduction 1 - rho, at most 1; nothing if a mean that rho divides by is zero.
  std::optional<double> reduction() const;

  /// The methods_for() this design.
  std::vector<Method> methods() const { return methods_for(comparison_.design); }

  /// The limits of the reduction by `method`; not usable, with the reason, if `method` is not among
  /// methods() or has no limits for these counts.
  /// @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;

  /// The interval to be shown: by the guarded posterior, or by the BCa bootstrap where there is no
  /// posterior; if there is neither, the guarded posterior's with its reason. It is never by a
  /// method that sees the luck of counting only, which would be too narrow.
  Interval headline(double level) const;

  /// The posterior, or why there is none.
  const OrReason<LogRatioDensity>& posterior() const;

  /// The law that puts all three witnesses together. There is none where there is no posterior, or
  /// where the posterior's limits at 90% are not precise enough (see posterior_limits()).
  const OrReason<GuardedLaw>& guarded() const;

  /// The guarded interval as it would be with the prior scales of the variation multiplied by
  /// `factor` (above 0): it tells how much the answer owes to that prior.
  Interval guarded_interval(double level, double factor) const;

private:
  OrReason<RatioLimits> limits(Method method, double level) const;
  const Bootstrap& bootstrap() const;

  Comparison comparison_;
  RatioData data_;
  PosteriorPriors priors_;
  PairedQuadrature quadrature_;
  mutable std::optional<OrReason<LogRatioDensity>> posterior_;
  mutable std::shared_ptr<const Bootstrap> bootstrap_;
  mutable std::optional<OrReason<GuardedLaw>> guarded_;
};

} // namespace eggfall
