#pragma once

#include "eggfall/judgement/judgement.hpp"

// What no verdict and its chances may do, asked by the sweep and by the tests.
namespace eggfall {

/// What may be said of a drench: that it is good enough for the lower threshold, and that it falls
/// short of the expected efficacy.
struct Claims {
  bool good = false;
  bool poor = false;
};

inline Claims claims_of_limits(const Verdict& verdict) {
  return {*verdict.interval->lower >= *verdict.lower, *verdict.interval->upper < *verdict.expected};
}

inline Claims claims_of_chances(const Verdict& verdict, const EfficacyProbabilities& chances) {
  const double allowed = (1 - verdict.interval->level) / 2;
  return {chances.below_lower <= allowed, chances.below_expected >= 1 - allowed};
}

/// Whether the chances say less than what the verdict claims by its limits, at a level of L: its
/// lower limit is at or above the lower threshold, yet more than (1 - L)/2 lies below that; or its
/// upper limit is below the expected efficacy, yet less than 1 - (1 - L)/2 lies below that. Both
/// come from one law, so none should. The reverse is no contradiction: a drench may be susceptible,
/// which asks for the lower threshold, though it probably falls short of the expected efficacy.
/// `verdict` must have a usable interval and both thresholds.
inline bool contradicts(const Verdict& verdict, const EfficacyProbabilities& chances) {
  const Claims by_limits = claims_of_limits(verdict);
  const Claims by_chances = claims_of_chances(verdict, chances);
  return (by_limits.good && !by_chances.good) || (by_limits.poor && !by_chances.poor);
}

} // namespace eggfall
