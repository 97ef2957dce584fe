#pragma once

#include "eggfall/base/random_stream.hpp"
#include "eggfall/statistics/ratio_data.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

/// The bootstrap as it is usually done, by drawing: what the one without dice is tested against.
namespace resampling {

/// rho of so many resamples, in ascending order, animals drawn whole within each sample; those
/// without any egg on both sides of the bar are left out.
inline std::vector<double> sorted_ratios(const eggfall::RatioData& data, std::uint32_t resamples,
                                         std::uint64_t seed) {
  std::vector<double> ratios;
  ratios.reserve(resamples);
  for (std::uint32_t replicate = 0; replicate < resamples; ++replicate) {
    eggfall::RandomStream stream({seed, 0, replicate});
    double numerator = 1;
    double denominator = 1;
    for (const eggfall::RatioSample& sample : data.samples) {
      const auto n = static_cast<std::uint32_t>(sample.animals());
      double above = 0;
      double below = 0;
      for (std::uint32_t draw = 0; draw < n; ++draw) {
        const std::uint32_t i = stream.below(n);
        const double weight = sample.weights.empty() ? 1 : sample.weights[i];
        above += weight * (sample.above.empty() ? 1 : sample.above[i]);
        below += weight * (sample.below.empty() ? 1 : sample.below[i]);
      }
      numerator *= above;
      denominator *= below;
    }
    if (numerator > 0 || denominator > 0)
      ratios.push_back(numerator / denominator);
  }
  std::ranges::sort(ratios);
  return ratios;
}

/// The share of ratios below one, ties counted half.
inline double share_below(const std::vector<double>& sorted, double ratio) {
  constexpr double rounding = 1e-12;
  const auto first = std::ranges::lower_bound(sorted, ratio * (1 - rounding));
  const auto last = std::ranges::upper_bound(sorted, ratio * (1 + rounding));
  return static_cast<double>((first - sorted.begin()) + (last - sorted.begin())) /
         (2 * static_cast<double>(sorted.size()));
}

/// The ratio that so large a share lies below.
inline double quantile(const std::vector<double>& sorted, double p) {
  const auto position = static_cast<std::size_t>(p * static_cast<double>(sorted.size()));
  return sorted[std::min(position, sorted.size() - 1)];
}

} // namespace resampling
