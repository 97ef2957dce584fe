#include "eggfall/log_ratio_density.hpp"

#include "support.hpp"

#include <boost/math/distributions/normal.hpp>

#include <cmath>
#include <limits>

using namespace eggfall;

TEST_CASE("Quantiles, probabilities and means of a normal density") {
  const LogRatioDensity density = support::normal(-3, 0.4);
  const boost::math::normal exact(-3, 0.4);
  for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975}) {
    const Quadrature eta = density.quantile(p);
    CHECK_THAT(eta.value, Catch::Matchers::WithinAbs(boost::math::quantile(exact, p), 1e-6));
    CHECK_THAT(density.probability_below(std::exp(eta.value)).value,
               Catch::Matchers::WithinAbs(p, 1e-9));
  }
  // Means of a normal and a log-normal variable, standard results.
  CHECK_THAT(density.mean_log_ratio().value, Catch::Matchers::WithinAbs(-3, 1e-8));
  CHECK_THAT(density.mean_ratio().value, support::close_to(std::exp(-3 + 0.4 * 0.4 / 2), 1e-6));
  CHECK_THAT(density.probability_efficacy_below(1 - std::exp(-3)).value,
             Catch::Matchers::WithinAbs(0.5, 1e-8));
  CHECK(density.probability_below(0).value == 0);
  CHECK(density.probability_efficacy_below(1).value == 1);
}

TEST_CASE("The returned error covers the true error") {
  // A coarse grid on purpose: 17 points, 1.5 standard deviations apart for the coarse rule.
  const LogRatioDensity density = support::normal(0, 1, 17);
  const boost::math::normal exact;
  for (const double p : {0.05, 0.3, 0.95}) {
    const Quadrature eta = density.quantile(p);
    CHECK(std::abs(eta.value - boost::math::quantile(exact, p)) <= eta.error + 1e-6);
  }
}

TEST_CASE("The difference of two normal variables is normal") {
  // Variances add, whatever the two steps.
  for (const double sd : {0.3, 1.0, 2.5}) {
    const LogRatioDensity sum = difference(support::normal(-3, 0.4), support::normal(0.5, sd));
    const boost::math::normal exact(-3.5, std::hypot(0.4, sd));
    for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975})
      CHECK_THAT(sum.quantile(p).value,
                 Catch::Matchers::WithinAbs(boost::math::quantile(exact, p), 2e-4));
  }
}

TEST_CASE("Limits nest, and impossible densities are refused") {
  const LogRatioDensity density = support::normal(-3, 0.4);
  CHECK(density.limits(0.95).lower < density.limits(0.90).lower);
  CHECK(density.limits(0.95).upper > density.limits(0.90).upper);
  CHECK(density.limits(0.90).error.has_value());
  CHECK_THROWS_AS(density.limits(1.0), InputError);
  CHECK_THROWS_AS(density.quantile(0.0), InputError);
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double inf = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(
      LogRatioDensity(NestedLogDensity{0, 1, std::vector(17, nan), std::vector(9, 0.0)}),
      CalculationError);
  CHECK_THROWS_AS(
      LogRatioDensity(NestedLogDensity{0, 1, std::vector(17, -inf), std::vector(9, 0.0)}),
      CalculationError);
  CHECK_THROWS_AS(
      LogRatioDensity(NestedLogDensity{0, 1, std::vector(16, 0.0), std::vector(8, 0.0)}),
      CalculationError);
  CHECK_THROWS_AS(
      LogRatioDensity(NestedLogDensity{0, 0, std::vector(17, 0.0), std::vector(9, 0.0)}),
      CalculationError);
}
