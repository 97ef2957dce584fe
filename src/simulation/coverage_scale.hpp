#pragma once

#include <array>

// An axis on which coverages of 90 and of 95 of 100 lie well apart, since an interval of the one
// misses the truth twice as often as one of the other.
namespace eggfall {

/// Coverages by which the axis is marked.
inline constexpr std::array coverage_marks{0.0, 0.5, 0.8, 0.9, 0.95, 0.99, 1.0};

/// Misses so rare that the axis ends there.
inline constexpr double rarest_miss = 1.0 / 400;

/// Where a coverage of 0 to 1 stands on it, from 0 (no interval held) to 1 (rarest_miss, or fewer
/// misses): log(1 - coverage) / log(rarest_miss), so that every step of the same height halves the
/// misses.
double stretched_coverage(double coverage);

} // namespace eggfall
