#include "eggfall/statistics/ratio_data.hpp"

#include "support/support.hpp"

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

using namespace eggfall;

TEST_CASE("A ratio of means, by hand") {
  CHECK_THAT(ratio({{{{1, 3}, {10, 30}}}}), support::close_to(0.1));
  // Two independent samples of different size: 2 over 20.
  CHECK_THAT(ratio({{{{1, 2, 3}, {}}, {{}, {10, 30}}}}), support::close_to(0.1));
  // The controlled design: (2/20)(12/6).
  CHECK_THAT(ratio({{{{1, 3}, {10, 30}}, {{12}, {6}}}}), support::close_to(0.2));
  // A missing side counts as 1.
  CHECK_THAT(ratio({{{{4, 6}, {}}}}), support::close_to(5));
  CHECK_THAT(ratio({{{{}, {4, 6}}}}), support::close_to(0.2));
}

TEST_CASE("A pool weighs as much as its animals in a ratio, on any scale") {
  // (3 x 1 + 1 x 5)/4 = 2 over (3 x 10 + 1 x 50)/4 = 20.
  CHECK_THAT(ratio({{{{1, 5}, {10, 50}, {3, 1}}}}), support::close_to(0.1));
  CHECK_THAT(ratio({{{{1, 5}, {10, 50}, {0.3, 0.1}}}}), support::close_to(0.1));
  // Three animals alike instead of a pool of three.
  CHECK_THAT(ratio({{{{1, 1, 1, 5}, {10, 10, 10, 50}}}}), support::close_to(0.1));
}

TEST_CASE("A ratio over nothing is without limit, or no number") {
  CHECK(ratio({{{{0, 0}, {10, 30}}}}) == 0);
  CHECK(ratio({{{{1, 3}, {0, 0}}}}) == std::numeric_limits<double>::infinity());
  CHECK(std::isnan(ratio({{{{0, 0}, {0, 0}}}})));
}

TEST_CASE("Data that make no ratio are refused") {
  CHECK_THROWS_AS(ratio({}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{}, {}}}}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{1, 2}, {1}}}}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{1, 2}, {3, 4}, {1}}}}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{1, 2}, {3, 4}, {1, 0}}}}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{1, 2}, {3, 4}, {1, -1}}}}), CalculationError);
  CHECK_THROWS_AS(ratio({{{{1, 2}, {3, 4}, {1, std::nan("")}}}}), CalculationError);
  CHECK_THROWS_AS(relative_influence({}), CalculationError);
  // The second sample is looked at as well as the first.
  CHECK_THROWS_AS(ratio({{{{1}, {2}}, {{}, {}}}}), CalculationError);
}

TEST_CASE("The relative influence of each animal, by hand") {
  // Means 2 and 20: 1/2 - 10/20 = 0, 3/2 - 30/20 = 0; then 1/2 - 30/20 = -1, 3/2 - 10/20 = 1.
  CHECK(relative_influence({{{{1, 3}, {10, 30}}}}) == std::vector<std::vector<double>>{{0, 0}});
  CHECK(relative_influence({{{{1, 3}, {30, 10}}}}) == std::vector<std::vector<double>>{{-1, 1}});
  // A missing side counts as 1: 1/2 - 1 and 3/2 - 1, and 1 - 10/20 and 1 - 30/20.
  CHECK(relative_influence({{{{1, 3}, {}}, {{}, {10, 30}}}}) ==
        std::vector<std::vector<double>>{{-0.5, 0.5}, {0.5, -0.5}});
  // Weights 3 and 1, of mean 2: the mean above is 2, so that 3/2 (1/2 - 1) and 1/2 (5/2 - 1).
  CHECK(relative_influence({{{{1, 5}, {}, {3, 1}}}}) ==
        std::vector<std::vector<double>>{{-0.75, 0.75}});
}

TEST_CASE("The influence of an animal is how fast the log ratio moves as its weight grows") {
  // Davison & Hinkley 1997, section 2.7: the empirical influence value is the derivative of the
  // statistic as mass e moves to one of n animals; here by a central difference of e = 1e-5.
  const std::vector<double> above{1, 0, 4, 2};
  const std::vector<double> below{20, 10, 35, 15};
  const auto influence = relative_influence({{{above, below}}});
  constexpr double e = 1e-5;
  const auto with_more_of = [&](std::size_t animal, double mass) {
    std::vector<double> weights(above.size(), (1 - mass) / static_cast<double>(above.size()));
    weights[animal] += mass;
    return std::log(ratio({{{above, below, weights}}}));
  };
  double sum = 0;
  for (std::size_t i = 0; i < above.size(); ++i) {
    const double slope = (with_more_of(i, e) - with_more_of(i, -e)) / (2 * e);
    // The difference errs by e^2 and by rounding of 1e-16/e.
    CHECK_THAT(influence[0][i], Catch::Matchers::WithinAbs(slope, 1e-8));
    sum += influence[0][i];
  }
  CHECK_THAT(sum, Catch::Matchers::WithinAbs(0, support::other_order));
}

TEST_CASE("Without pairing each side is a sample of its own, weights and all") {
  const RatioData split = without_pairing({{{{1, 3}, {10, 30}, {2, 1}}, {{5}, {}}, {{}, {7, 8}}}});
  REQUIRE(split.samples.size() == 4);
  CHECK(split.samples[0].above == std::vector<double>{1, 3});
  CHECK(split.samples[0].below.empty());
  CHECK(split.samples[0].weights == std::vector<double>{2, 1});
  CHECK(split.samples[1].above.empty());
  CHECK(split.samples[1].below == std::vector<double>{10, 30});
  CHECK(split.samples[1].weights == std::vector<double>{2, 1});
  CHECK(split.samples[2].above == std::vector<double>{5});
  CHECK(split.samples[3].below == std::vector<double>{7, 8});
  CHECK_THAT(ratio(split),
             support::close_to(ratio({{{{1, 3}, {10, 30}, {2, 1}}, {{5}, {}}, {{}, {7, 8}}}})));
}
