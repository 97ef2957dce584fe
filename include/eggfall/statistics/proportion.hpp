#pragma once

#include <cstdint>
#include <optional>

namespace eggfall {

/// x of n, with limits; all empty if n is 0.
struct Proportion {
  std::optional<double> value;
  std::optional<double> lower;
  std::optional<double> upper;
};

/// x/n with the Jeffreys interval of a binomial proportion: the (1 - level)/2 and (1 + level)/2
/// quantiles of Beta(x + 1/2, n - x + 1/2), but 0 below if x = 0 and 1 above if x = n (Brown, Cai
/// & DasGupta 2001, Statistical Science 16:101-133, section 4.1.1).
/// @throws InputError unless 0 < level < 1; CalculationError if x > n.
Proportion jeffreys_proportion(std::uint64_t x, std::uint64_t n, double level);

} // namespace eggfall
