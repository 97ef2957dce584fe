#pragma once

#include <cstddef>
#include <vector>

namespace eggfall {

/// One independent sample of animals. Each animal gives a value above the
/// fraction bar, a value below it, or both; where both are used the two vectors
/// are of one length and index i is the same animal in each.
struct RatioSample {
  std::vector<double> above;
  std::vector<double> below;

  std::size_t animals() const { return above.empty() ? below.size() : above.size(); }
};

/// A ratio of arithmetic means over independent samples,
///
///     rho = product over samples of mean(above) / mean(below),
///
/// where a missing side counts as 1. Every design of a reduction test is one of
/// these (see comparison.hpp), and so is any plain ratio of means.
struct RatioData {
  std::vector<RatioSample> samples;
};

/// rho, or infinity if a mean below the bar is zero and rho would otherwise be
/// above zero, or NaN for 0/0.
/// @throws CalculationError if there is no sample, a sample is empty, or its two
///   sides differ in length.
double ratio(const RatioData& data);

/// Relative influence of each animal on rho,
///
///     u_i = above_i / mean(above) - below_i / mean(below)
///
/// with a missing side counted as 1; the empirical influence value of rho is
/// rho * u_i (Davison & Hinkley 1997, Bootstrap Methods and their Application,
/// section 2.7). One vector a sample, animals in order. Needs every mean > 0.
std::vector<std::vector<double>> relative_influence(const RatioData& data);

/// Each sample with both sides split into two independent samples: what a formula
/// for unpaired groups sees when it is given paired counts.
RatioData without_pairing(const RatioData& data);

} // namespace eggfall
