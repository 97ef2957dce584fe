#pragma once

#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/worm_share.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// One worm's larvae in the cultures of a comparison: those whose eggs stand above the fraction bar
/// of its reduction (after treatment in the treated group, ...) and those below it.
struct WormShares {
  std::vector<WormShare> above;
  std::vector<WormShare> below;

  /// All that the treated group's culture after treatment, above.front(), is compared with: those
  /// below, and the rest above.
  std::vector<WormShare> references() const;
};

/// Where the cultures of WormShares::references() stand, as words: "before treatment", "in the
/// control group", ...
std::vector<std::string_view> reference_places(Design design);

/// Paired: the treated group's cultures after, and before. Two-group and baseline: the treated
/// group's after, and the control's after (before). Controlled: all four. `control` may be
/// nullptr only for the paired design.
WormShares worm_shares(Design design, const Group& treated, const Group* control,
                       std::string_view worm);

/// The worms of a comparison's cultures, in the order of the treated group's culture before.
std::vector<std::string> cultured_worms(Design design, const Group& treated, const Group* control);

/// What a comparison and its larval cultures say about the reduction of one worm; see of_worm().
class WormEvidence {
public:
  /// `all` is what the counts of all worms together say; it must outlive this.
  WormEvidence(const Evidence& all, WormShares shares);

  /// That of the comparison.
  Design design() const { return all_.design(); }

  /// 1 - rho q/p from the observed shares; nothing if the worm was not among the larvae of each
  /// culture that it is compared with (all but the treated group's after treatment), or if eggs
  /// were seen in that one's samples and no larva was told apart.
  std::optional<double> reduction() const;

  /// The guarded posterior, and the posterior without its guard.
  std::vector<Method> methods() const;

  /// None but for methods(). @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;

  Interval headline(double level) const { return interval(Method::guarded_posterior, level); }

  /// The posterior of the worm's log(rho), or why there is none.
  const PosteriorOrReason& posterior() const { return posterior_; }

  /// The worm's law by all witnesses: those of all worms together, each with the shares' doubt. The
  /// luck of counting is so that of all eggs.
  const GuardedOrReason& guarded() const { return guarded_; }

  const WormShares& shares() const { return shares_; }

  /// The same, had none of the worm's larvae been found in the treated group's culture after
  /// treatment.
  WormEvidence without_larvae_after() const;

  /// Whether any egg was seen after treatment, of whatever worm; true if that cannot be told.
  bool eggs_after() const { return all_.reduction() != 1; }

private:
  std::string why_not() const;

  const Evidence& all_;
  WormShares shares_;
  PosteriorOrReason posterior_;
  GuardedOrReason guarded_;
};

} // namespace eggfall
