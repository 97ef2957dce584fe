#pragma once

#include "eggfall/statistics/drench_law.hpp"

#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// A combination of drug classes beside its parts, each tried alone in the same trial.
struct Combination {
  struct Part {
    DrugClass drug_class = DrugClass::bz;
    std::string group;
  };

  /// What is to be expected of the parts together, if they act independently.
  struct Expected {
    /// 1 - prod (1 - e_i) of the parts' observed reductions e_i, each of which holds the season; of
    /// n parts n - 1 of these are taken out again, at the season's median, where a control tells of
    /// it.
    double reduction = 0;
    /// Of the product of the parts' rho. None where the parts share a control: its noise would be
    /// counted once a part (variance n v_C), though it enters the product n-fold (n^2 v_C), and the
    /// limits would be too narrow.
    OrReason<RatioLimits> ratio;
    /// P(rho of the combination < product of the parts' rho), by the guarded law. Where n parts
    /// share a control the log of the ratio holds (n - 1)^2 v_C and is given (n + 1) v_C, which is
    /// no less for up to three parts; for more there is no probability.
    std::optional<Quadrature> found_is_better;
  };

  std::string group; ///< Of the combination.
  std::vector<Part> parts;
  double level = 0.90;
  std::optional<double> reduction; ///< Of the combination, observed.
  Interval headline;               ///< Of the combination, as shown for its group.
  OrReason<Expected> expected = WhyNot{"there is no comparison"};
};

/// The combinations among `drenches` (two classes and more) of which every class stands alone in
/// a group, or in several, of the same host and worm (one that is not given agrees with any). If
/// the parts act independently, each removing its share of what the others leave,
///
///     rho_expected = prod rho_i,   eta_expected = sum eta_i,
///
/// and the law of eta_expected is the convolution of the parts' laws by sum(). It holds
/// for one worm species at a time: of several, with shares w_s of the eggs, the combination leaves
/// sum_s w_s prod_i rho_is, which exceeds the product of the means by their covariance where parts
/// fail against the same species, and falls short of it where they fail against different ones.
///
/// A paired fall is the drench's times the season's, so that the parts' product holds one season
/// too many for each part beyond the first: `season`, where untreated animals tell of it, is taken
/// out so often (the same season: its law is scaled, not convolved with itself).
///
/// Nothing is expected, and the reason says why, if a class stands alone in several groups (which
/// of them is the part would be a guess), if a group has no law, or if designs differ.
/// @throws InputError unless 0 < level < 1.
std::vector<Combination> find_combinations(const std::vector<DrenchLaw>& drenches,
                                           const std::optional<LogRatioDensity>& season,
                                           double level);

} // namespace eggfall
