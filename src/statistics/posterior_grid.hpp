#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "statistics/nested_rule.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace eggfall {

/// Log densities this far below the highest are left off the grid of eta ...
inline constexpr double negligible_posterior = 14;
/// ... and this far below, off the range of the coefficient of variation. No more than about the
/// share e^-11 of the answer is lost by that.
inline constexpr double negligible_variation = 11;

/// A uniform grid of eta.
struct EtaGrid {
  double start = 0;
  double step = 0;
  std::size_t points = 0;

  EtaGrid(const Range& range, std::size_t size)
      : start(range.low), step(range.length() / static_cast<double>(size - 1)), points(size) {}

  double eta(std::size_t i) const { return start + step * static_cast<double>(i); }
  double end() const { return eta(points - 1); }
};

inline double log_sum_exp(const Eigen::ArrayXd& values) {
  const double highest = values.maxCoeff();
  return std::isfinite(highest) ? highest + std::log((values - highest).exp().sum())
                                : -std::numeric_limits<double>::infinity();
}

/// The marginal log density of eta: for every `every`-th row of `joint` (a row is a point of eta, a
/// column a node) the log of the sum over the columns of exp(joint + log weight).
inline std::vector<double> marginal(const Eigen::ArrayXXd& joint, const Eigen::ArrayXd& log_weight,
                                    Eigen::Index every = 1) {
  // The sum goes column by column, since a row is not contiguous in memory.
  const Eigen::Index rows = (joint.rows() + every - 1) / every;
  const auto column = [&](Eigen::Index t) {
    return joint.col(t)(Eigen::seqN(0, rows, every)) + log_weight(t);
  };
  Eigen::ArrayXd highest = column(0);
  for (Eigen::Index t = 1; t < joint.cols(); ++t)
    highest = highest.max(column(t));
  // A row on which no node has a density is not shifted: -infinity less -infinity would be NaN.
  const Eigen::ArrayXd shift =
      (highest == -std::numeric_limits<double>::infinity()).select(0.0, highest);
  Eigen::ArrayXd sum = Eigen::ArrayXd::Zero(rows);
  for (Eigen::Index t = 0; t < joint.cols(); ++t)
    if (std::isfinite(log_weight(t)))
      sum += (column(t) - shift).exp();
  const Eigen::ArrayXd result = highest + sum.log();
  return {result.begin(), result.end()};
}

/// A 32-bit draw between 0 and 1, both left out.
inline double uniform(RandomStream& stream) {
  constexpr double unit = 1.0 / 4294967296.0;
  return (stream() + 0.5) * unit;
}

/// The sum of the weights up to and with each.
template <typename Weights> std::vector<double> cumulative(const Weights& weights) {
  std::vector<double> sums;
  double sum = 0;
  for (const double weight : weights)
    sums.push_back(sum += weight);
  return sums;
}

/// A random index, drawn with the probability of its weight, whose cumulative() sums are given.
inline std::size_t drawn(const std::vector<double>& cumulative_weights, RandomStream& stream) {
  const auto found =
      std::ranges::upper_bound(cumulative_weights, uniform(stream) * cumulative_weights.back());
  return std::min(static_cast<std::size_t>(found - cumulative_weights.begin()),
                  cumulative_weights.size() - 1);
}

/// A draw from a joint density on a grid: a value of eta and the index of a node.
struct GridDraw {
  double eta = 0;
  std::size_t node = 0;
};

/// `size` independent draws: a bin with probability in proportion to exp(joint + log weight), and
/// then a uniform place within the bin's width in eta.
inline std::vector<GridDraw> draw(const Eigen::ArrayXXd& joint, const Eigen::ArrayXd& log_weight,
                                  const EtaGrid& grid, std::size_t size, RandomStream& stream) {
  const Eigen::ArrayXXd log_bin = joint.rowwise() + log_weight.transpose();
  const Eigen::ArrayXXd bin = (log_bin - log_bin.maxCoeff()).exp();
  const std::vector<double> sums = cumulative(bin.reshaped());
  const auto rows = static_cast<std::size_t>(bin.rows());
  std::vector<GridDraw> draws;
  for (std::size_t i = 0; i < size; ++i) {
    const std::size_t index = drawn(sums, stream);
    draws.push_back({grid.eta(index % rows) + (uniform(stream) - 0.5) * grid.step, index / rows});
  }
  return draws;
}

/// Moves and narrows a range of eta until it just holds the posterior. `log_density(grid)` gives
/// the marginal log densities on a grid. `in_sight()` is called after each grid on which the whole
/// posterior was in sight; the caller may then narrow the ranges of its other unknowns by what it
/// saw on that grid.
/// @throws CalculationError if the posterior is not found.
template <typename LogDensity, typename InSight>
Range fitted_range(Range range, LogDensity&& log_density, InSight&& in_sight) {
  constexpr std::size_t pilot_points = 17;
  constexpr int most_rounds = 60;
  constexpr double settled = 0.35;
  for (int round = 0; round < most_rounds; ++round) {
    const EtaGrid grid(range, pilot_points);
    const std::vector<double> values = log_density(grid);
    const double highest = *std::ranges::max_element(values);
    const bool lost = !std::isfinite(highest);
    const auto counts = [&](double value) { return value > highest - negligible_posterior; };
    const bool low_cut = lost || counts(values.front());
    const bool high_cut = lost || counts(values.back());
    if (low_cut || high_cut) {
      range = {low_cut ? range.low - range.length() : range.low,
               high_cut ? range.high + range.length() : range.high};
      continue;
    }
    in_sight();
    const auto first = std::ranges::find_if(values, counts) - values.begin();
    const auto last = values.rend() - std::find_if(values.rbegin(), values.rend(), counts) - 1;
    const Range narrower{grid.eta(static_cast<std::size_t>(first - 1)),
                         grid.eta(static_cast<std::size_t>(last + 1))};
    const bool done = narrower.length() > settled * range.length();
    range = narrower;
    if (done)
      return range;
  }
  throw CalculationError("a posterior could not be located");
}

/// The part of `range` where the posterior of a coefficient of variation is not negligible,
/// `nodes` being ascending values of it and `log_posterior` their log densities.
inline Range narrowed(Range range, const std::vector<double>& nodes,
                      const std::vector<double>& log_posterior) {
  const double threshold = *std::ranges::max_element(log_posterior) - negligible_variation;
  // The place where a straight line from the log density at a node below the threshold (`out`) to
  // that at its neighbour above it (`in`) crosses the threshold.
  const auto crossing = [&](std::size_t out, std::size_t in) {
    const double share =
        std::isfinite(log_posterior[out])
            ? (threshold - log_posterior[out]) / (log_posterior[in] - log_posterior[out])
            : 0;
    return nodes[out] + share * (nodes[in] - nodes[out]);
  };
  std::size_t first = 0;
  while (log_posterior[first] <= threshold)
    ++first;
  std::size_t last = nodes.size() - 1;
  while (log_posterior[last] <= threshold)
    --last;
  return {first > 0 ? crossing(first - 1, first) : range.low,
          last + 1 < nodes.size() ? crossing(last + 1, last) : range.high};
}

/// One weight of every node, in order.
template <typename Node>
Eigen::ArrayXd weights(const std::vector<Node>& nodes, double Node::*weight) {
  Eigen::ArrayXd result(static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t t = 0; t < nodes.size(); ++t)
    result(static_cast<Eigen::Index>(t)) = nodes[t].*weight;
  return result;
}

/// The same from a joint log density that has a column for each node; `variation` is the member
/// that holds the node's coefficient of variation.
template <typename Node>
Range narrowed(Range range, const std::vector<Node>& nodes, double Node::*variation,
               const Eigen::ArrayXXd& joint) {
  std::vector<double> values;
  std::vector<double> log_posterior;
  for (std::size_t t = 0; t < nodes.size(); ++t) {
    values.push_back(nodes[t].*variation);
    log_posterior.push_back(log_sum_exp(joint.col(static_cast<Eigen::Index>(t))) +
                            nodes[t].log_weight);
  }
  return narrowed(range, values, log_posterior);
}

} // namespace eggfall
