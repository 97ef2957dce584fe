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
    /// 1 - prod (1 - e_i), a proportion, e_i being the observed reductions of the parts. In a
    /// paired design each of the n parts holds the season's change once; where a control tells of
    /// it, the product is divided by rho_season^(n - 1), rho_season being at its median, so that
    /// one season is left.
    double reduction = 0;
    /// Limits at `level` for the product of the parts' rho. There are none where the parts share a
    /// control: its noise enters the log of the product n-fold (variance n^2 v_C, v_C being the
    /// variance of the control's log mean), but independent laws count it once a part (n v_C), and
    /// the limits would be too narrow.
    OrReason<RatioLimits> ratio;
    /// P(rho of the combination < product of the parts' rho), by the guarded law. Where n parts
    /// share a control, the log of the ratio of the two truly varies by (n - 1)^2 v_C through the
    /// control and is given (n + 1) v_C, which is no less for up to three parts; with more parts no
    /// probability is given.
    std::optional<Quadrature> found_is_better;
  };

  std::string group; ///< Of the combination.
  std::vector<Part> parts;
  double level = 0.90;
  std::optional<double> reduction; ///< Of the combination, observed.
  Interval headline;               ///< Of the combination, as shown for its group.
  OrReason<Expected> expected = WhyNot{"there is no comparison"};
};

/// Finds the combinations among `drenches`: groups given two classes and more, each class of which
/// some other group of the same host and worm was given alone (a host or worm that is not stated
/// agrees with any). rho = 1 - reduction is the share of eggs left, and eta = log(rho). If the
/// parts act independently, each removing its share of what the others leave,
///
///     rho_expected = prod rho_i,   eta_expected = sum eta_i,
///
/// and the law of eta_expected is the convolution of the parts' laws by sum(). It holds
/// for one worm species at a time: of several, with shares w_s of the eggs, the combination leaves
/// sum_s w_s prod_i rho_is, which exceeds the product of the means by their covariance where parts
/// fail against the same species, and falls short of it where they fail against different ones.
///
/// A paired fall is the drench's times the season's, so that the product of n parts holds n - 1
/// seasons too many. Where untreated animals tell of the season, `season` is the law of its eta,
/// and (n - 1) eta is taken out; it is one and the same season each time, so its law is scaled by n
/// - 1 and not convolved with itself. Other designs make no use of `season`.
///
/// Nothing is expected, and the reason says why, if a class stands alone in several groups (which
/// of them is the part would be a guess), if a group has no law, or if designs differ.
/// @throws InputError unless 0 < level < 1.
std::vector<Combination> find_combinations(const std::vector<DrenchLaw>& drenches,
                                           const std::optional<LogRatioDensity>& season,
                                           double level);

} // namespace eggfall
