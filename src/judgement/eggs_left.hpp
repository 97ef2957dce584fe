#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <optional>
#include <string>

namespace eggfall {

/// Of 100 eggs that an untreated flock would have had (before treatment, or in the control), how
/// many were left: 100 x (1 - reduction), with the limits of the interval shown first.
struct EggsLeft {
  double found = 0;
  std::optional<double> least; ///< Both or neither.
  std::optional<double> most;
};

/// Nothing if there is no reduction.
std::optional<EggsLeft> eggs_left(const GroupAnalysis& analysis);

/// "none", "fewer than 1", "about 8".
std::string eggs_in_words(double eggs);

} // namespace eggfall
