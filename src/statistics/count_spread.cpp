#include "eggfall/statistics/count_spread.hpp"

#include "eggfall/base/error.hpp"

#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/tools/roots.hpp>

#include <cmath>
#include <numeric>

namespace eggfall {
namespace {

/// Derivative of the log likelihood by k, at k = exp(log_k).
double score(const std::vector<std::uint32_t>& counts, double mean, double log_k) {
  const double k = std::exp(log_k);
  const double psi_k = boost::math::digamma(k);
  double sum = 0;
  for (const std::uint32_t x : counts)
    if (x > 0)
      sum += boost::math::digamma(x + k) - psi_k;
  return sum - static_cast<double>(counts.size()) * std::log1p(mean / k);
}

/// Nothing if the root lies above `largest_k`, where a negative binomial cannot
/// be told from a Poisson distribution.
std::optional<double> maximum_likelihood_k(const std::vector<std::uint32_t>& counts, double mean) {
  constexpr double largest_k = 1e6;
  constexpr double smallest_log_k = -40;
  const auto by_log_k = [&](double log_k) { return score(counts, mean, log_k); };
  // The score falls from positive to negative through its only root.
  const double high = std::log(largest_k);
  if (by_log_k(high) >= 0)
    return std::nullopt;
  double low = -1;
  while (by_log_k(low) <= 0)
    if ((low -= 2) < smallest_log_k)
      throw CalculationError("the aggregation parameter k could not be bracketed");
  std::uintmax_t iterations = 200;
  const auto root = boost::math::tools::toms748_solve(
      by_log_k, low, high, boost::math::tools::eps_tolerance<double>(48), iterations);
  return std::exp(std::midpoint(root.first, root.second));
}

} // namespace

CountSpread count_spread(const std::vector<std::uint32_t>& counts) {
  CountSpread spread;
  spread.animals = counts.size();
  if (counts.empty())
    return spread;
  const auto n = static_cast<double>(counts.size());
  spread.mean = std::accumulate(counts.begin(), counts.end(), 0.0) / n;
  if (counts.size() < 2)
    return spread;
  double squares = 0;
  for (const std::uint32_t x : counts)
    squares += (x - spread.mean) * (x - spread.mean);
  spread.variance = squares / (n - 1);
  if (spread.mean == 0)
    spread.aggregation = Aggregation::all_zero;
  else if (squares / n <= spread.mean)
    spread.aggregation = Aggregation::not_clumped;
  else {
    spread.k = maximum_likelihood_k(counts, spread.mean);
    spread.aggregation = spread.k ? Aggregation::clumped : Aggregation::not_clumped;
  }
  return spread;
}

} // namespace eggfall
