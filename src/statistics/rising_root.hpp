#pragma once

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

namespace eggfall {

/// The x at which `function`, which rises from below `value` to above it, reaches `value`; at a
/// jump across `value`, the place of the jump. The search begins at `middle` and doubles its steps
/// from `step` on. The error is at most `close_enough` x max(1, |x|). x is a log ratio: since e^800
/// is beyond any double, no x much beyond -800 or 800 is looked for, and the end of the search is
/// returned if `value` is not reached.
template <typename Rising>
double solve_rising(const Rising& function, double value, double middle, double step,
                    double close_enough = 1e-12) {
  constexpr double farthest = 800;
  const auto excess = [&](double x) { return function(x) - value; };
  double low = middle;
  double high = middle;
  double at_low = excess(low);
  double at_high = at_low;
  double reach = step;
  while (at_low >= 0 && low > -farthest) {
    high = std::exchange(low, low - reach);
    at_high = std::exchange(at_low, excess(low));
    reach *= 2;
  }
  while (at_high < 0 && high < farthest) {
    low = std::exchange(high, high + reach);
    at_low = std::exchange(at_high, excess(high));
    reach *= 2;
  }
  if (at_low >= 0 || at_high <= 0)
    return at_low >= 0 ? low : high;
  std::uintmax_t evaluations = 200;
  const auto [from, to] = boost::math::tools::toms748_solve(
      excess, low, high, at_low, at_high,
      [=](double a, double b) { return b - a < close_enough * std::max(1.0, std::abs(a)); },
      evaluations);
  return (from + to) / 2;
}

} // namespace eggfall
