#pragma once

#include <vector>

namespace eggfall {

/// One independent group of values, of which as many as there are are drawn with replacement.
using DrawnValues = std::vector<double>;

/// P(S < 0) + P(S = 0)/2 for the sum S of all draws of all groups, by the saddlepoint. With c_g
/// draws from group g the cumulant function of S is
///
///     K(l) = sum_g c_g log( mean of exp(l x) over the values of g ),
///
/// and with K'(l) = 0, w = sign(l) sqrt(-2 K(l)), u = l sqrt(K''(l)),
///
///     P(S <= 0) = Phi(w) + phi(w) (1/w - 1/u),
///
/// near l = 0 its limit Phi(w) + phi(w) K'''/(6 K''^(3/2)) (Lugannani & Rice 1980, Advances in
/// Applied Probability 12:475-490; for the bootstrap Davison & Hinkley 1988, Biometrika
/// 75:417-431; both from memory, tested against resampling).
///
/// The formula is for a smooth law. Where a few values alone lie above 0, or below it, S has lumps
/// by how many of these are drawn: their number is then binomial, and the formula is used given
/// that number, where all that is drawn has one sign with certainty. A sum whose law stays lumpy
/// all the same is smoothed.
///
/// All values above 0 are in one group, and so are all below it. A zero must be exact.
double probability_of_sum_below_zero(const std::vector<DrawnValues>& groups);

} // namespace eggfall
