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

/// The methods that suit a design, the one shown first in front.
std::vector<Method> methods_for(Design design);

/// A posterior's limits; none if there is no posterior, or its error exceeds a twentieth of the
/// interval's width.
OrReason<RatioLimits> posterior_limits(const OrReason<LogRatioDensity>& posterior, double level);

/// What one comparison says about the reduction: its value, and limits by every
/// method the design allows, at any level. The posterior and the bootstrap are worked out once, on
/// first use; nothing is drawn at random.
///
/// What is worked out is kept, and copies of a guarded() law share it: an Evidence, its law and all
/// copies of that law are for one thread at a time. Threads of their own need evidence of their
/// own.
class Evidence {
public:
  /// @throws CalculationError as in_order_of_counts().
  Evidence(Comparison comparison, const PosteriorPriors& priors,
           const PairedQuadrature& quadrature = {});

  /// The comparison that was given, in_order_of_counts().
  const Comparison& comparison() const { return comparison_; }
  Design design() const { return comparison_.design; }

  /// 1 - rho, or nothing if rho cannot be had (its divisor is zero).
  std::optional<double> reduction() const;

  /// The methods_for() this design.
  std::vector<Method> methods() const { return methods_for(comparison_.design); }

  /// The limits by `method`; not usable if that is not among methods().
  /// @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;

  /// The interval to be shown: by the guarded posterior, or by the BCa bootstrap where there is no
  /// posterior; if there is neither, the guarded posterior's with its reason. It is never by a
  /// method that sees the luck of counting only, which would be too narrow.
  Interval headline(double level) const;

  /// The posterior, or why there is none.
  const OrReason<LogRatioDensity>& posterior() const;

  /// All three witnesses together; none where there is no posterior, or one that is not precise
  /// enough at 90% (posterior_limits()).
  const OrReason<GuardedLaw>& guarded() const;

  /// The guarded interval with the prior scale of the variation multiplied.
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
