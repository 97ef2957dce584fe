#include "interval_checks.hpp"

#include "eggfall/base/random_stream.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

using namespace eggfall;

namespace {

std::string shown(const Interval& interval) {
  return interval.usable() ? fmt::format("{} at {}: {} to {}", to_string(interval.method),
                                         interval.level, *interval.lower, *interval.upper)
                           : fmt::format("{} at {}: none ({})", to_string(interval.method),
                                         interval.level, interval.why_not);
}

std::vector<std::size_t> shuffled(std::size_t size, RandomStream& stream) {
  std::vector<std::size_t> order(size);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = size; i > 1; --i)
    std::swap(order[i - 1], order[stream.below(static_cast<std::uint32_t>(i))]);
  return order;
}

std::vector<Count> in_order(const std::vector<Count>& counts,
                            const std::vector<std::size_t>& order) {
  std::vector<Count> result;
  if (!counts.empty())
    for (const std::size_t i : order)
      result.push_back(counts[i]);
  return result;
}

} // namespace

bool close(double a, double b, double tolerance) {
  return std::abs(a - b) <= tolerance * std::max({1.0, std::abs(a), std::abs(b)});
}

std::vector<Interval> check_intervals(Tally& tally, const SweptTrial& trial,
                                      const Evidence& evidence, Method method,
                                      const std::vector<double>& levels) {
  const std::string name(to_string(method));
  std::vector<Interval> intervals;
  for (const double level : levels) {
    const Interval& interval = intervals.emplace_back(evidence.interval(method, level));
    const auto what = [&] { return shown(interval); };
    tally.check(trial, name + ": limits, or why there are none",
                interval.usable() == interval.why_not.empty(), what);
    if (!interval.usable())
      continue;
    const double lower = *interval.lower;
    const double upper = *interval.upper;
    tally.check(trial, name + ": limits are numbers",
                std::isfinite(lower) && std::isfinite(upper) &&
                    (!interval.error || (std::isfinite(*interval.error) && *interval.error >= 0)),
                what);
    tally.check(trial, name + ": lower <= upper <= 100%", lower <= upper && upper <= 1, what);
  }
  if (!intervals.front().usable())
    tally.note(trial, name + ": none: " + intervals.front().why_not);
  return intervals;
}

void check_nested(Tally& tally, const SweptTrial& trial, const std::vector<Interval>& intervals) {
  for (std::size_t i = 1; i < intervals.size(); ++i) {
    const Interval& inner = intervals[i - 1];
    const Interval& outer = intervals[i];
    if (inner.usable() && outer.usable())
      tally.check(trial, std::string(to_string(outer.method)) + ": wider at a higher level",
                  *outer.lower <= *inner.lower && *outer.upper >= *inner.upper,
                  [&] { return shown(inner) + "; " + shown(outer); });
  }
}

void check_none_above_none(Tally& tally, const SweptTrial& trial,
                           const std::vector<Interval>& intervals) {
  for (std::size_t i = 1; i < intervals.size(); ++i)
    tally.check(trial,
                std::string(to_string(intervals[i].method)) + ": none at a level, none at a higher",
                intervals[i - 1].usable() || !intervals[i].usable(),
                [&] { return shown(intervals[i - 1]) + "; " + shown(intervals[i]); });
}

Comparison reordered(const Comparison& comparison, std::uint64_t seed) {
  RandomStream stream({seed, stream_group("sweep", "order"), 0});
  Comparison result = comparison;
  for (Arm& arm : result.arms) {
    const auto order = shuffled(std::max(arm.above.size(), arm.below.size()), stream);
    arm.above = in_order(arm.above, order);
    arm.below = in_order(arm.below, order);
  }
  return result;
}

Comparison in_another_unit(const Comparison& comparison) {
  Comparison result = comparison;
  std::vector<Count*> counts;
  for (Arm& arm : result.arms)
    for (std::vector<Count>* side : {&arm.above, &arm.below})
      for (Count& count : *side)
        counts.push_back(&count);
  const bool room_above = std::ranges::all_of(counts, [](const Count* count) {
    return 2 * count->factor.value() <= MultiplicationFactor::largest;
  });
  const bool room_below = std::ranges::all_of(counts, [](const Count* count) {
    return count->factor.value() / 2 >= MultiplicationFactor::smallest;
  });
  const double times = room_above   ? 2
                       : room_below ? 0.5
                                    : 1; // powers of two, so that no bit is lost
  for (Count* count : counts)
    count->factor = MultiplicationFactor(times * count->factor.value());
  return result;
}
