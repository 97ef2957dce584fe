#include "eggfall/statistics/proportion.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/interval.hpp"

#include <boost/math/distributions/beta.hpp>

namespace eggfall {

Proportion jeffreys_proportion(std::uint64_t x, std::uint64_t n, double level) {
  check_level(level);
  if (x > n)
    throw CalculationError("a proportion of more than the whole");
  if (n == 0)
    return {};
  const auto part = static_cast<double>(x);
  const auto whole = static_cast<double>(n);
  const boost::math::beta_distribution<double> posterior(part + 0.5, whole - part + 0.5);
  return {part / whole, x == 0 ? 0 : boost::math::quantile(posterior, (1 - level) / 2),
          x == n ? 1 : boost::math::quantile(posterior, (1 + level) / 2)};
}

} // namespace eggfall
