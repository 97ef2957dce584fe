#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// Treated animals that were sampled before and not after: dead, sold, or not caught. If those with
/// most worms are among them, the fall of the rest flatters the drench.
struct MissingAfter {
  std::size_t animals = 0; ///< Pools counted with all their animals.
  std::vector<std::string> tags;
  double share_of_animals = 0; ///< Of the animals sampled before treatment.
  /// Of the sum of EPG x animals before treatment; 0 if no egg was counted.
  double share_of_eggs = 0;
  /// The fall had no missing animal's count changed. With i over the animals compared, j over the
  /// missing ones, a before and b after in EPG x animals of the sample:
  ///     rho = (sum b_i + sum a_j) / (sum a_i + sum a_j).
  std::optional<double> fall_if_unchanged;
  /// The fall had none of them had an egg after: rho = sum b_i / (sum a_i + sum a_j).
  std::optional<double> fall_if_none;
};

/// Both falls are proportions, negative for a rise, and empty if nothing divides them. In the
/// controlled design rho is also multiplied by C1/C2 of the control animals compared.
/// `comparison` is made by compare() from `treated`. Nothing if its design does not pair, or no
/// animal is missing.
std::optional<MissingAfter> missing_after(const Group& treated, const Comparison& comparison);

} // namespace eggfall
