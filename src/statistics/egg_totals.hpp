#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"

#include <cstdint>

namespace eggfall {

/// Limits for rho from two totals of eggs seen, A below the fraction bar and B
/// above it, taken as Poisson. B given A + B is then binomial with
/// p = rho'/(1 + rho'), rho' being the ratio of the eggs expected to be seen, and
///
///     rho = p/(1 - p) * exposure_ratio,
///
/// where exposure_ratio = (n_A/f_A) / (n_B/f_B) for n samples counted at a factor of f EPG per egg.
/// The argument is that of Dobson et al. 2012, Veterinary Parasitology
/// 186:79-92. It sees the noise of counting only and none between or within
/// animals, so it is too narrow for most real trials; but it has a true lower
/// limit when B = 0.
struct EggTotals {
  std::uint64_t above = 0;   ///< B.
  std::uint64_t below = 0;   ///< A; above 0.
  double exposure_ratio = 1; ///< Above 0.
};

/// Limits of rho from the (1 -/+ level)/2 quantiles p of Beta(B + 1/2, A + 1/2); the lower limit is
/// 0 when B = 0 (Brown, Cai & DasGupta 2001, Statistical Science 16:101-133).
/// @throws InputError unless 0 < level < 1; CalculationError if A = 0, or if the exposure ratio is
///   not above 0 or not finite.
RatioLimits jeffreys_limits(const EggTotals& totals, double level);

/// Limits of rho from the Clopper-Pearson limits of p (Clopper & Pearson 1934, Biometrika
/// 26:404-413).
/// @throws InputError and CalculationError as jeffreys_limits().
RatioLimits exact_limits(const EggTotals& totals, double level);

/// The highest rho that a one-sided exact test at `level` allows when no egg is
/// found above the bar. That of p is 1 - (1 - level)^(1/A), A being `below`, which is close to the
/// 3/A of Hanley & Lippman-Hand 1983, JAMA 249:1743-1745, at level 0.95.
/// @throws InputError and CalculationError as jeffreys_limits().
double highest_ratio_if_none(std::uint64_t below, double exposure_ratio, double level);

/// The totals of a comparison, or the reason why it has none: a controlled design
/// (four totals), counts at several factors or pools of several sizes in one set, or no egg below
/// the bar.
OrReason<EggTotals> egg_totals(const Comparison& comparison);

} // namespace eggfall
