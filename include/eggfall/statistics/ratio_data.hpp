#pragma once

#include <cstddef>
#include <vector>

namespace eggfall {

/// One independent sample of animals. Each animal gives a value above the
/// fraction bar, a value below it, or both; where both are used the two vectors
/// are of one length and index i is the same animal in each. A pool of animals is
/// one "animal" whose weight is the number of animals in it.
struct RatioSample {
  std::vector<double> above;
  std::vector<double> below;
  std::vector<double> weights = {}; ///< Positive, of any scale; none: all alike.

  std::size_t animals() const { return above.empty() ? below.size() : above.size(); }
};

/// A ratio of (weighted) arithmetic means over independent samples,
///
///     rho = product over samples of mean(above) / mean(below),
///     mean(x) = sum w_i x_i / sum w_i,
///
/// where a missing side counts as 1. Every design of a reduction test is one of
/// these (see comparison.hpp), with values in EPG, and so is any plain ratio of means.
struct RatioData {
  std::vector<RatioSample> samples;
};

/// rho, or infinity if a mean below the bar is zero and rho would otherwise be
/// above zero, or NaN for 0/0.
/// @throws CalculationError if there is no sample, a sample is empty, its two
///   sides or its weights differ in length, or a weight is not above 0.
double ratio(const RatioData& data);

/// Relative influence of each animal on rho,
///
///     u_i = (w_i / mean w) (above_i / mean(above) - below_i / mean(below)),
///
/// the quotient of a missing side being 1: animals of equal values so have no influence, however
/// their weights differ. The empirical influence value of rho is rho * u_i (Davison & Hinkley 1997,
/// Bootstrap Methods and their Application, section 2.7). There is one vector a sample, its animals
/// in order. Every mean must be above 0, which is not checked.
/// @throws CalculationError as ratio().
std::vector<std::vector<double>> relative_influence(const RatioData& data);

/// Each sample with both sides split into two independent samples: what a formula
/// for unpaired groups sees when it is given paired counts.
RatioData without_pairing(const RatioData& data);

} // namespace eggfall
