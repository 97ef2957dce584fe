#pragma once

#include "eggfall/trial/egg_count.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// The sums of one group, as they are added up on paper: of eggs seen, not of EPG.
struct HandSums {
  std::size_t animals = 0;          ///< n, 2 or more.
  std::uint64_t eggs = 0;           ///< Sum of x.
  std::uint64_t squares = 0;        ///< Sum of x^2.
  double mean = 0;                  ///< m = sum / n.
  double mean_epg = 0;              ///< m times the factor.
  double variance = 0;              ///< s^2 = (sum of x^2 - (sum of x)^2 / n) / (n - 1).
  std::optional<double> share_of_y; ///< s^2 / (n m^2); empty if m is 0.
};

/// The calculation of Coles et al. 1992, Veterinary Parasitology 44:35-44, step by step, on the
/// eggs seen in a treated (T) and an untreated (C) group after treatment:
///
///     reduction = 1 - m_T/m_C,   Y2 = s_T^2/(n_T m_T^2) + s_C^2/(n_C m_C^2),
///     limits    = 1 - (m_T/m_C) exp(+/- t sqrt(Y2)),
///
/// t being the (1 + level)/2 quantile of Student's t on n_T + n_C - 2 degrees of freedom. The
/// factor, alike in both groups, cancels.
struct HandCalculation {
  HandSums treated;
  HandSums control;
  double factor = 0; ///< EPG for one egg seen.
  std::size_t degrees_of_freedom = 0;
  double t = 0;
  std::optional<double> reduction; ///< A proportion; empty if the control has no eggs.
  std::optional<double> y2;
  std::optional<double> lower; ///< Proportions.
  std::optional<double> upper;
  std::string why_no_limits; ///< Empty if there are limits.
};

/// @throws InputError if a group has fewer than two animals, the factors differ, samples are pools,
///   or `level` is not in (0, 1).
HandCalculation hand_calculation(const std::vector<Count>& treated,
                                 const std::vector<Count>& control, double level);

} // namespace eggfall
