#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// What one treated group brings into a comparison of drenches: its posterior, or why it takes no
/// part.
struct DrenchPosterior {
  std::string group;
  std::vector<DrugClass> classes;
  std::string host; ///< canonical_host(); empty if not given.
  std::string worm; ///< canonical_worm(); empty if not given.
  std::optional<Design> design;
  std::optional<double> reduction;        ///< Observed, a proportion.
  Interval headline;                      ///< The interval shown for the group.
  std::optional<LogRatioDensity> density; ///< Of log(rho), efficacy = 1 - rho.
  std::string why_not;                    ///< Why there is no density; empty if there is.
};

} // namespace eggfall
