#include "eggfall/statistics/log_ratio_density.hpp"

#include "support/densities.hpp"
#include "support/support.hpp"

#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/normal.hpp>

#include <cmath>
#include <limits>

using namespace eggfall;

using densities::normal;

TEST_CASE("Quantiles, probabilities and means of a normal density") {
  const LogRatioDensity density = normal(-3, 0.4);
  const boost::math::normal exact(-3, 0.4);
  for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975}) {
    const Quadrature eta = density.quantile(p);
    CHECK_THAT(eta.value,
               Catch::Matchers::WithinAbs(boost::math::quantile(exact, p), support::on_a_grid));
    CHECK_THAT(density.probability_below(std::exp(eta.value)).value,
               Catch::Matchers::WithinAbs(p, support::many_steps));
  }
  // Means of a normal and a log-normal variable, standard results.
  // By symmetry the middle is exact, but for rounding.
  constexpr double by_symmetry = 1e-8;
  CHECK_THAT(density.mean_log_ratio().value, Catch::Matchers::WithinAbs(-3, by_symmetry));
  CHECK_THAT(density.mean_ratio().value,
             support::close_to(std::exp(-3 + 0.4 * 0.4 / 2), support::on_a_grid));
  CHECK_THAT(density.probability_efficacy_below(1 - std::exp(-3)).value,
             Catch::Matchers::WithinAbs(0.5, by_symmetry));
  CHECK(density.probability_below(0).value == 0);
  CHECK(density.probability_efficacy_below(1).value == 1);
}

TEST_CASE("The returned error covers the true error") {
  // A coarse grid on purpose: 17 points, 1.5 standard deviations apart for the coarse rule.
  const LogRatioDensity density = normal(0, 1, 17);
  const boost::math::normal exact;
  for (const double p : {0.05, 0.3, 0.95}) {
    const Quadrature eta = density.quantile(p);
    CHECK(std::abs(eta.value - boost::math::quantile(exact, p)) <= eta.error + support::on_a_grid);
  }
}

TEST_CASE("The difference of two normal variables is normal") {
  // Variances add, whatever the two steps.
  for (const double sd : {0.3, 1.0, 2.5}) {
    const LogRatioDensity sum = difference(normal(-3, 0.4), normal(0.5, sd));
    const boost::math::normal exact(-3.5, std::hypot(0.4, sd));
    for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975})
      CHECK_THAT(sum.quantile(p).value, Catch::Matchers::WithinAbs(boost::math::quantile(exact, p),
                                                                   support::sum_of_two_laws));
  }
}

TEST_CASE("The sum of two independent variables, in closed form") {
  SECTION("normal: variances add, whatever the two steps") {
    for (const double sd : {0.3, 1.0, 2.5}) {
      const LogRatioDensity both = sum(normal(-3, 0.4), normal(0.5, sd));
      const boost::math::normal exact(-2.5, std::hypot(0.4, sd));
      for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975})
        CHECK_THAT(
            both.quantile(p).value,
            Catch::Matchers::WithinAbs(boost::math::quantile(exact, p), support::sum_of_two_laws));
    }
  }
  SECTION("gamma of one scale: shapes add") {
    const auto gamma = [](double shape) {
      return densities::on_grid([=](double x) { return (shape - 1) * std::log(x) - x; }, 0.05, 50,
                                513);
    };
    const LogRatioDensity both = sum(gamma(6), gamma(9));
    const boost::math::gamma_distribution<> exact(15);
    for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975}) {
      const Quadrature quantile = both.quantile(p);
      CHECK_THAT(quantile.value,
                 Catch::Matchers::WithinAbs(boost::math::quantile(exact, p), support::coarse_grid));
    }
  }
  SECTION("and takes back a difference's mean") {
    const LogRatioDensity x = normal(-3, 0.4);
    const LogRatioDensity y = normal(0.5, 1.0);
    CHECK_THAT(sum(difference(x, y), y).mean_log_ratio().value,
               Catch::Matchers::WithinAbs(-3, support::on_a_grid));
  }
}

TEST_CASE("The probability that no other is lower") {
  const LogRatioDensity x = normal(-3, 0.4);
  const LogRatioDensity y = normal(-2.5, 0.3);
  const boost::math::normal exact;
  // P(X < Y) = Phi((m_y - m_x) / sqrt(v_x + v_y)) of independent normal variables.
  CHECK_THAT(x.probability_none_lower({&y}, 0).value,
             Catch::Matchers::WithinAbs(boost::math::cdf(exact, 0.5 / std::hypot(0.4, 0.3)),
                                        support::on_a_grid));
  CHECK(x.probability_none_lower({}, 0).value == 1);
  SECTION("a width far from the other's does no harm") {
    for (const double sd : {0.01, 0.05, 20.0}) {
      const LogRatioDensity other = normal(-2.9, sd);
      const double z = 0.1 / std::hypot(0.4, sd);
      const Quadrature below = x.probability_none_lower({&other}, 0);
      CHECK_THAT(below.value,
                 Catch::Matchers::WithinAbs(boost::math::cdf(exact, z), support::sums_of_grids));
      // Densities that end at 6 sd leave out 2e-9, which both rules miss alike.
      CHECK(std::abs(below.value - boost::math::cdf(exact, z)) <= below.error + 1e-7);
      const Quadrature above = other.probability_none_lower({&x}, 0);
      CHECK_THAT(above.value,
                 Catch::Matchers::WithinAbs(boost::math::cdf(exact, -z), support::sums_of_grids));
    }
  }
  SECTION("a margin helps, and no rho within it of 0 can be beaten") {
    CHECK(x.probability_none_lower({&y}, 0.02).value > x.probability_none_lower({&y}, 0).value);
    CHECK(normal(-9, 0.1).probability_none_lower({&x, &y}, 0.02).value == 1);
    CHECK_THROWS_AS(x.probability_none_lower({&y}, -0.1), CalculationError);
  }
}

TEST_CASE("Limits nest, and impossible densities are refused") {
  const LogRatioDensity density = normal(-3, 0.4);
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
      LogRatioDensity(NestedLogDensity{0, 1, std::vector(17, 0.0), std::vector(9, -inf)}),
      CalculationError);
  CHECK_THROWS_AS(shifted(density, {}), CalculationError);
  CHECK_THROWS_AS(
      LogRatioDensity(NestedLogDensity{0, 1, std::vector(16, 0.0), std::vector(8, 0.0)}),
      CalculationError);
  CHECK_THROWS_AS(
      LogRatioDensity(NestedLogDensity{0, 0, std::vector(17, 0.0), std::vector(9, 0.0)}),
      CalculationError);
}
