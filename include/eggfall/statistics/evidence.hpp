#pragma once

#include "eggfall/statistics/bootstrap.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/ratio_data.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace eggfall {

class CountLuck;

/// The methods that suit a design, the one shown first in front.
std::vector<Method> methods_for(Design design);

/// A posterior's limits; none if there is no posterior, or its error exceeds a twentieth of the
/// interval's width.
RatioLimits posterior_limits(const PosteriorOrReason& posterior, double level);

/// What the guarded interval listens to: each may see a doubt that the others do not.
enum class Witness {
  posterior, ///< Of a model with one efficacy for all animals.
  animals,   ///< The BCa bootstrap: animals may respond differently.
  luck,      ///< The luck of counting alone, by mid-P: what no number of alike animals takes away.
};

/// Which witness reaches furthest on each side of the guarded interval of the reduction. A limit of
/// the luck of counting says that too few eggs were counted for one further in.
struct GuardedBy {
  Witness lower = Witness::posterior;
  Witness upper = Witness::posterior;

  bool operator==(const GuardedBy&) const = default;
};

/// What one comparison says about the reduction: its value, and limits by every
/// method the design allows, at any level. The posterior is worked out, and resamples are
/// drawn, once, on first use.
class Evidence {
public:
  Evidence(Comparison comparison, const BootstrapSettings& bootstrap, const PosteriorPriors& priors,
           const PairedQuadrature& quadrature = {});

  const Comparison& comparison() const { return comparison_; }
  Design design() const { return comparison_.design; }

  /// 1 - rho, or nothing if rho cannot be had (its divisor is zero).
  std::optional<double> reduction() const;

  /// methods_for() this design.
  std::vector<Method> methods() const { return methods_for(comparison_.design); }

  /// Not usable by a method that is not among methods().
  /// @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;

  /// The guarded posterior, or the BCa bootstrap where there is none; or else the guarded
  /// posterior with its reason. Never a method that sees the luck of counting only.
  Interval headline(double level) const;

  /// The posterior, or why there is none.
  const PosteriorOrReason& posterior() const;

  /// The guarded interval with the prior scale of the variation multiplied.
  Interval guarded_interval(double level, double by) const;

  /// Whose the limits of the guarded interval are; nothing if it has none.
  /// @throws InputError unless 0 < level < 1.
  std::optional<GuardedBy> guarded_by(double level) const;

  /// Whether eggs were seen after treatment, and yet the data's rho lies outside the posterior's
  /// 90% limits: the animals fell too differently for a model with one efficacy.
  bool outside_posterior() const;

private:
  struct GuardedLimits {
    RatioLimits rho;
    GuardedBy by;
  };

  RatioLimits limits(Method method, double level) const;
  /// The outermost limits of all witnesses; where no egg was found after treatment, the bootstrap
  /// has none, and the luck of counting bounds the reduction from below alone.
  GuardedLimits guarded(RatioLimits posterior_limits, double level) const;
  RatioLimits luck_limits(double level) const;

  Comparison comparison_;
  RatioData data_;
  BootstrapSettings settings_;
  PosteriorPriors priors_;
  PairedQuadrature quadrature_;
  mutable std::optional<PosteriorOrReason> posterior_;
  mutable std::optional<BootstrapSample> resamples_;
  mutable std::shared_ptr<const CountLuck> luck_;
};

} // namespace eggfall
