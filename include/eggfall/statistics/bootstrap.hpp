#pragma once

#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/ratio_data.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace eggfall {

struct BootstrapSettings {
  std::size_t resamples = 10'000; ///< From 100 to 10,000,000.
  std::uint64_t seed = 1;
  std::uint64_t group = 0; ///< See stream_group().
};

/// rho of every resample, in ascending order. Animals are drawn whole (both
/// sides of a pair), with replacement, within each sample of the data.
struct BootstrapSample {
  double estimate = 0;        ///< rho of the data.
  std::vector<double> ratios; ///< Sorted; infinity where only the divisor is zero.
  std::size_t undefined = 0;  ///< Resamples with zero on both sides of the bar.
  RatioData data;
};

/// Resamples `data` (Davison & Hinkley 1997, sections 2.3 and 3.2). Replicate r
/// draws from the stream (seed, group, r), so the result does not depend on the
/// order or thread in which replicates are made.
/// @throws InputError if `resamples` is out of range; CalculationError as ratio().
BootstrapSample bootstrap(const RatioData& data, const BootstrapSettings& settings);

/// The (1 -/+ level)/2 quantiles of the resampled ratios, taken at rank
/// (R + 1) p and interpolated on the normal quantile scale between ranks
/// (Davison & Hinkley 1997, section 5.2).
///
/// Not usable if a sample has fewer than two animals, if the data's rho is zero or
/// undefined, if all resamples agree, or if more than 1% of them are undefined.
/// @throws InputError unless 0 < level < 1, or if the ranks fall outside 1..R.
RatioLimits percentile_limits(const BootstrapSample& sample, double level);

/// Bias-corrected and accelerated limits (Efron 1987, JASA 82:171-185; Davison &
/// Hinkley 1997, section 5.3.2): the quantiles at
///
///     Phi( z0 + (z0 + z) / (1 - a (z0 + z)) ),
///
/// z0 = Phi^-1(share of resamples below the estimate, ties counted half) and a =
/// (1/6) sum l^3 / (sum l^2)^(3/2), l being the influence values over n of their
/// sample. Not usable as percentile_limits(), or if z0 is infinite or
/// the corrected ranks fall outside 1..R.
/// @throws InputError as percentile_limits().
RatioLimits bca_limits(const BootstrapSample& sample, double level);

} // namespace eggfall
