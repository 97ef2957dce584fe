#pragma once

#include "tally.hpp"

#include "eggfall/statistics/evidence.hpp"

#include <vector>

/// Whether two numbers are one but for rounding, relative to the larger of them and 1.
bool close(double a, double b, double tolerance = 1e-9);

/// What holds of every interval: limits that are numbers, in order, and none above 100%.
/// @return the method's intervals at these levels, which rise.
std::vector<eggfall::Interval> check_intervals(Tally& tally, const SweptTrial& trial,
                                               const eggfall::Evidence& evidence,
                                               eggfall::Method method,
                                               const std::vector<double>& levels);

/// Whether an interval at a higher level encloses that at a lower one; `intervals` are one
/// method's, at levels that rise.
void check_nested(Tally& tally, const SweptTrial& trial,
                  const std::vector<eggfall::Interval>& intervals);

/// Whether a method that gives no limits at a level gives none at a higher one.
void check_none_above_none(Tally& tally, const SweptTrial& trial,
                           const std::vector<eggfall::Interval>& intervals);

/// The same animals in another order, which pairs keep.
eggfall::Comparison reordered(const eggfall::Comparison& comparison, std::uint64_t seed);

/// Every EPG doubled, or halved where a factor would leave its range.
eggfall::Comparison in_another_unit(const eggfall::Comparison& comparison);
