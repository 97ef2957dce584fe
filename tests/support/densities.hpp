#pragma once

#include "eggfall/statistics/log_ratio_density.hpp"

#include <cmath>
#include <cstddef>

/// Densities of eta = log(rho) in closed form, for tests.
namespace densities {

/// A log density, up to a constant, on `points` points from `low` to `high`.
template <typename F>
eggfall::LogRatioDensity on_grid(F&& log_density, double low, double high, std::size_t points) {
  eggfall::NestedLogDensity grid{low, (high - low) / static_cast<double>(points - 1), {}, {}};
  for (std::size_t i = 0; i < points; ++i) {
    const double value = log_density(low + grid.step * static_cast<double>(i));
    grid.fine.push_back(value);
    if (i % 2 == 0)
      grid.coarse.push_back(value - 3); // the constants of the two need not agree
  }
  return eggfall::LogRatioDensity(grid);
}

/// Six standard deviations each way.
inline eggfall::LogRatioDensity normal(double mean, double sd, std::size_t points = 65) {
  return on_grid([=](double eta) { return -std::pow((eta - mean) / sd, 2) / 2; }, mean - 6 * sd,
                 mean + 6 * sd, points);
}

/// rho/(1 + rho) ~ Beta(after + 1/2, before + 1/2): Jeffreys' posterior of a pooled count.
inline eggfall::LogRatioDensity pooled(double before, double after, std::size_t points = 257) {
  const double middle = std::log((after + 0.5) / (before + 0.5));
  const double sd = std::sqrt(1 / (after + 0.5) + 1 / (before + 0.5));
  return on_grid(
      [=](double eta) {
        return (after + 0.5) * eta - (after + before + 1) * std::log1p(std::exp(eta));
      },
      middle - 12 * sd, middle + 8 * sd, points);
}

} // namespace densities
