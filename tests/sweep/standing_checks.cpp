#include "standing_checks.hpp"

#include <boost/math/distributions/binomial.hpp>

double of_100(std::uint64_t number, std::uint32_t trials) {
  return 100 * static_cast<double>(number) / trials;
}

bool too_many(std::uint64_t number, std::uint32_t trials, double allowed) {
  constexpr double rare = 1e-4;
  if (number == 0)
    return false;
  const boost::math::binomial_distribution<double> luck(trials, allowed);
  return cdf(complement(luck, static_cast<double>(number) - 1)) < rare;
}
