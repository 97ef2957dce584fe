#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// What one treated group brings into a comparison of drenches: the law of its rho, or why it takes
/// no part.
struct DrenchLaw {
  std::string group;
  std::vector<DrugClass> classes;
  std::string host; ///< canonical_host(); empty if not given.
  std::string worm; ///< canonical_worm(); empty if not given.
  std::optional<Design> design;
  std::optional<double> reduction; ///< The observed fall, a proportion.
  Interval headline;               ///< The interval shown for the group.
  /// The law of eta = log(rho), the efficacy being 1 - rho.
  OrReason<GuardedLaw> law = WhyNot{"nothing could be compared"};
};

} // namespace eggfall
