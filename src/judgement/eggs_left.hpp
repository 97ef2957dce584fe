#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <optional>
#include <string>

namespace eggfall {

/// The fall that the standing of a group or worm is about, with the interval that is shown first.
/// It is the drench's own fall where untreated animals tell of the season, and otherwise that of
/// the counts.
struct DrenchFall {
  std::optional<double> reduction;
  Interval interval;
  const GuardedLaw* law = nullptr; ///< The law of that fall, if there is one; it belongs to the
                                   ///< evidence or the judgement.
};

DrenchFall drench_fall(const GroupEvidence& evidence, const Judgement& judgement);

/// Of 100 eggs that an untreated flock would have had (before treatment, in the control, or after
/// the season alone), how many were left: 100 x (1 - reduction) of the drench_fall(), with its
/// limits.
struct EggsLeft {
  double found = 0;
  std::optional<double> least; ///< Empty if and only if `most` is.
  std::optional<double> most;
  /// Of how many eggs they are told in words. It is 1,000 where the rule of the first verdict given
  /// expects a fall of 99.5% or more, so that it allows no more than one egg of 200, unless a
  /// number would then have more than three digits; otherwise 100.
  int told_of = 100;
};

/// The eggs left of a group, or of one of its worms; nothing if there is no reduction.
std::optional<EggsLeft> eggs_left(const GroupEvidence& evidence, const Judgement& judgement);

/// "none", "fewer than 1", "about 8".
std::string eggs_in_words(double eggs);

/// More eggs than this of 100 are not told apart: they come of a factor that was written wrongly,
/// or of next to no eggs before, and have no room beside a drawing.
inline constexpr int most_eggs_told = 999;

/// A number of eggs, rounded: "120", or "over 999".
std::string whole_eggs(double eggs);

} // namespace eggfall
