#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace eggfall {

/// What a maximum likelihood fit of the aggregation parameter k came to.
enum class Aggregation {
  clumped,     ///< A finite k.
  not_clumped, ///< Variance (divisor n) not above the mean, or k beyond 1e6: as good as Poisson.
  all_zero,    ///< No egg: any k fits as well as another.
  too_few_animals, ///< Fewer than two animals.
};

/// Mean, variance and clumping of a set of counts. The negative binomial is
/// written by its mean m and aggregation parameter k, with variance m + m^2/k.
struct CountSpread {
  std::size_t animals = 0;
  double mean = 0;
  std::optional<double> variance; ///< Divisor n - 1; empty for fewer than two animals.
  Aggregation aggregation = Aggregation::too_few_animals;
  std::optional<double> k; ///< Only if `aggregation` is clumped.
};

/// The maximum likelihood estimate of k at the mean of the data solves
///
///     sum_i [ psi(x_i + k) - psi(k) ] = n log(1 + m/k),
///
/// x_i being the n counts of eggs seen (not EPG), m their mean and psi the digamma function. It has
/// a finite root exactly if the variance with divisor n exceeds the mean (Levin & Reeds 1977,
/// Annals of Statistics 5:79-87; Bliss & Fisher 1953, Biometrics 9:176-200 give the equation).
/// @throws CalculationError if the root is not found, which no known input causes.
CountSpread count_spread(const std::vector<std::uint32_t>& counts);

} // namespace eggfall
