#pragma once

#include <vector>

namespace eggfall {

/// The values of one group. From each group as many draws as it has values are made, with
/// replacement and independently of the other groups.
using DrawnValues = std::vector<double>;

/// P(S < 0) + P(S = 0)/2 for the sum S of all draws of all groups, by the saddlepoint
/// approximation. With c_g draws from group g the cumulant function of S is
///
///     K(l) = sum_g c_g log( mean of exp(l x) over the values of g ),
///
/// and with l, the saddlepoint, where K'(l) = 0, w = sign(l) sqrt(-2 K(l)) and u = l sqrt(K''(l)),
///
///     P(S <= 0) = Phi(w) + phi(w) (1/w - 1/u),
///
/// Phi and phi being the standard normal distribution function and density; near l = 0 its limit is
/// used, Phi(w) + phi(w) K'''/(6 K''^(3/2)) (Lugannani & Rice 1980, Advances in
/// Applied Probability 12:475-490; for the bootstrap Davison & Hinkley 1988, Biometrika
/// 75:417-431; both from memory, tested against resampling).
///
/// The formula is for a smooth law. Where only a few values lie above 0, or below it, the law of S
/// has a lump for each number of times that these are drawn. That number is then binomial; the
/// formula is used given each number, and the results are added by their probabilities. Given a
/// number, where all that is drawn is of one sign, the answer is certain. A law that stays lumpy
/// all the same is smoothed by the formula.
///
/// A value that stands for 0 must be exactly 0.
/// @throws CalculationError if values above 0 lie in two groups, or values below 0 do.
double probability_of_sum_below_zero(const std::vector<DrawnValues>& groups);

} // namespace eggfall
