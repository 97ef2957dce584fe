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

/// Tells that a culture is missing which the design asks for, and which other one takes its place:
/// faeces of animals of the same mob, cultured on another day or in another group. Both are named
/// by where they stand, as in reference_places().
struct StandIn {
  std::vector<std::string_view> missing; ///< At least one.
  /// Where the culture stands that the worm's share is compared with instead.
  std::string_view place;

  bool operator==(const StandIn&) const = default;
};

/// One worm's larvae in the cultures of a comparison. A culture stands above the fraction bar of
/// the worm's rho where its eggs do, the treated group's after treatment always first, and
/// otherwise below the bar.
struct WormShares {
  std::vector<WormShare> above;
  std::vector<WormShare> below;
  std::optional<StandIn> stand_in = std::nullopt;

  /// The cultures with which the treated group's culture after treatment, above.front(), is
  /// compared: all those below the bar, and those above it but the first.
  std::vector<WormShare> references() const;
};

/// Where the cultures of WormShares::references() stand, as words: "before treatment", "in the
/// control group", ...
std::vector<std::string_view> reference_places(Design design, const WormShares& shares);

/// Picks the cultures that a design compares. Paired: the treated group's after treatment (above
/// the bar) and before it (below). Two-group: the treated group's and the control's after
/// treatment. Baseline: the treated group's after and the control's before treatment. Controlled:
/// all four.
/// @throws CalculationError if `control` is nullptr and the design is not the paired one.
///
/// Where the culture is missing with which the treated group's culture after treatment is compared,
/// the first of these that there is stands in for it:
///   - paired: of the control before treatment, of the control after it;
///   - two-group: of the control before treatment, of the treated group before it;
///   - baseline: of the treated group before treatment, of the control after it.
/// Controlled: the two groups are taken to be alike before treatment where one of their cultures of
/// that day is missing, or where both are one culture of mixed groups. Both are then left out, and
/// the treated group's culture after treatment is compared with the control's after treatment
/// alone. Where that one is missing, the control's are taken to be alike on both days and left out,
/// and the treated group's own culture before treatment is used; where that is missing too, the
/// control's before treatment.
WormShares worm_shares(Design design, const Group& treated, const Group* control,
                       std::string_view worm);

/// The names of all worms in a comparison's cultures, each once: those below the fraction bar first
/// (for a paired design the culture before treatment), then those above it.
/// @throws CalculationError as worm_shares().
std::vector<std::string> cultured_worms(Design design, const Group& treated, const Group* control);

/// Which limits of a worm's reduction its cultures set.
enum class KnownLimits {
  none,
  both,
  upper, ///< Its share is known of the eggs after treatment alone. Before treatment it laid at most
         ///< all of them, so it cannot have fallen by more than this limit.
  lower, ///< Its share is known of the eggs before treatment alone. After treatment it laid at most
         ///< all of them, so it cannot have fallen by less than this limit.
};

/// What a comparison and its larval cultures say about the reduction of one worm; see of_worm().
///
/// Let q be the worm's share of the eggs after treatment and p its share before, so that its
/// reduction is 1 - rho q / p. Where p is unknown it is at most 1: the reduction is then at most 1
/// - rho q, whose upper limit holds. Where q is unknown it is at most 1: the reduction is then at
/// least 1 - rho / p, whose lower limit holds. Nothing else is taken for granted of an unknown
/// share.
class WormEvidence {
public:
  /// `all` is what the counts of all worms together say; it must outlive this.
  WormEvidence(const Evidence& all, WormShares shares);
  WormEvidence(const Evidence&& all, WormShares shares) = delete;

  /// The design of the comparison.
  Design design() const { return all_.design(); }

  /// The observed reduction 1 - rho q/p, a proportion. It is nothing where the worm was not among
  /// the larvae of each of the references(), or where eggs were seen in the treated group's samples
  /// after treatment but no larva of theirs was told apart.
  std::optional<double> reduction() const;

  /// The guarded posterior, and the posterior without its guard.
  std::vector<Method> methods() const;

  KnownLimits known_limits() const { return known_; }

  /// The limits by one of methods(), none by another; where one limit alone is known
  /// (known_limits()), that one.
  /// @throws InputError unless 0 < level < 1.
  Interval interval(Method method, double level) const;

  Interval headline(double level) const { return interval(Method::guarded_posterior, level); }

  /// The worm's law by all witnesses. It is the law of all worms together, with the doubt about the
  /// shares added to each witness by itself; the witness of the luck of counting is therefore that
  /// of all eggs, and not of this worm's alone. There is none unless both limits are known.
  const OrReason<GuardedLaw>& guarded() const { return guarded_; }

  /// The law from which the one limit is read where only one is known (known_limits()), or else
  /// nothing. It takes the unknown share to be 1, so that its other limit says nothing.
  const std::optional<GuardedLaw>& bounding_law() const { return bounding_; }

  const WormShares& shares() const { return shares_; }

  /// This evidence as it would be if no larva of the worm had been found in the treated group's
  /// culture after treatment.
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
