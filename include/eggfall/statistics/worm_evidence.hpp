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

/// A culture that takes the place of one that its design asks for and that is missing: faeces of
/// animals of the same mob, on another day or in another group. Cultures are named by where they
/// stand, as in reference_places().
struct StandIn {
  std::vector<std::string_view> missing; ///< At least one.
  /// Where the culture stands that the worm's share is compared with instead.
  std::string_view place;

  bool operator==(const StandIn&) const = default;
};

/// One worm's larvae in the cultures of a comparison: those whose eggs stand above the fraction bar
/// of its reduction (after treatment in the treated group, ...) and those below it.
struct WormShares {
  std::vector<WormShare> above;
  std::vector<WormShare> below;
  std::optional<StandIn> stand_in = std::nullopt;

  /// All that the treated group's culture after treatment, above.front(), is compared with: those
  /// below, and the rest above.
  std::vector<WormShare> references() const;
};

/// Where the cultures of WormShares::references() stand, as words: "before treatment", "in the
/// control group", ...
std::vector<std::string_view> reference_places(Design design, const WormShares& shares);

/// Paired: the treated group's cultures after, and before. Two-group and baseline: the treated
/// group's after, and the control's after (before). Controlled: all four. `control` may be
/// nullptr only for the paired design.
///
/// A culture that the treated group's is compared with and that is missing has a stand-in, if there
/// is one; the first of
///   - paired: of the control before treatment, of the control after it;
///   - two-group: of the control before treatment, of the treated group before it;
///   - baseline: of the treated group before treatment, of the control after it.
/// Controlled: where one of the two before treatment is missing, or both are one and the same
/// culture of mixed groups, the groups are taken to be alike before treatment and both are left
/// out, so that the treated group's is compared with the control's after treatment alone; where
/// that is missing the control's are taken to be alike on both days and left out.
WormShares worm_shares(Design design, const Group& treated, const Group* control,
                       std::string_view worm);

/// The worms of a comparison's cultures, in the order of the treated group's culture before.
std::vector<std::string> cultured_worms(Design design, const Group& treated, const Group* control);

/// Which limits of a worm's reduction its cultures set.
enum class KnownLimits {
  none,
  both,
  upper, ///< Its share is known of the eggs after treatment alone: it laid at most all before.
  lower, ///< Its share is known of the eggs before treatment alone: it laid at most all after.
};

/// What a comparison and its larval cultures say about the reduction of one worm; see of_worm().
///
/// With q the worm's share after treatment and p its share before, where p is unknown it is at most
/// 1, so that the reduction 1 - rho q / p is at most 1 - rho q, whose upper limit holds; where q is
/// unknown the reduction is at least 1 - rho / p, whose lower limit holds. Of p or q within (0, 1)
/// nothing is taken for granted.
class WormEvidence {
public:
  /// `all` is what the counts of all worms together say; it must outlive this.
  WormEvidence(const Evidence& all, WormShares shares);
  WormEvidence(const Evidence&& all, WormShares shares) = delete;

  /// The design of the comparison.
  Design design() const { return all_.design(); }

  /// 1 - rho q/p from the observed shares; nothing if the worm was not among the larvae of each
  /// culture that it is compared with (all but the treated group's after treatment), or if eggs
  /// were seen in that one's samples and no larva was told apart.
  std::optional<double> reduction() const;

  /// The guarded posterior, and the posterior without its guard.
  std::vector<Method> methods() const;

  KnownLimits known_limits() const { return known_; }

  /// The limits by one of methods(), none by another; where one limit alone is known
  /// (known_limits()), that one.
  /// @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;

  Interval headline(double level) const { return interval(Method::guarded_posterior, level); }

  /// The worm's law by all witnesses: that of all worms together, to each witness of which the
  /// doubt about the shares is added (the luck of counting is therefore that of all eggs). None
  /// unless both limits are known.
  const OrReason<GuardedLaw>& guarded() const { return guarded_; }

  /// Where only one limit is known (known_limits()): the law that this limit is read from, and
  /// whose other limit says nothing.
  const std::optional<GuardedLaw>& bounding_law() const { return bounding_; }

  const WormShares& shares() const { return shares_; }

  /// The same, had none of the worm's larvae been found in the treated group's culture after
  /// treatment.
  WormEvidence without_larvae_after() const;

  /// Whether any egg was seen after treatment, of whatever worm; true if that cannot be told.
  bool eggs_after() const { return all_.reduction() != 1; }

private:
  std::string why_not() const;
  KnownLimits find_known() const;

  const Evidence& all_;
  WormShares shares_;
  KnownLimits known_ = KnownLimits::none;
  OrReason<GuardedLaw> guarded_ = WhyNot{"it is not worked out yet"};
  std::optional<GuardedLaw> bounding_;
};

/// `interval` without the limits that are not `known`; `why_not` says why the other limit is not.
Interval known_part(Interval interval, KnownLimits known, const std::string& why_not);

} // namespace eggfall
