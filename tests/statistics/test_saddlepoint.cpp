#include "statistics/saddlepoint.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

/// P(S < 0) + P(S = 0)/2 by going through every draw there can be, of one small group.
double exactly(const DrawnValues& values) {
  const std::size_t n = values.size();
  std::size_t all = 1;
  for (std::size_t i = 0; i < n; ++i)
    all *= n;
  double sum = 0;
  for (std::size_t draw = 0; draw < all; ++draw) {
    double total = 0;
    for (std::size_t rest = draw, i = 0; i < n; ++i, rest /= n)
      total += values[rest % n];
    sum += total < 0 ? 1 : total > 0 ? 0 : 0.5;
  }
  return sum / static_cast<double>(all);
}

} // namespace

TEST_CASE("Of smooth values the saddlepoint is right to a part in a hundred, of seven already") {
  CHECK_THAT(probability_of_sum_below_zero({DrawnValues{-3.1, -1.7, -0.4, 0.6, 1.9, 2.2, -2.6}}),
             Catch::Matchers::WithinAbs(exactly({-3.1, -1.7, -0.4, 0.6, 1.9, 2.2, -2.6}), 0.01));
  CHECK_THAT(probability_of_sum_below_zero({DrawnValues{-5.3, -1.2, -3.1, -0.2, 1.4, -2.2, 0.7}}),
             Catch::Matchers::WithinAbs(exactly({-5.3, -1.2, -3.1, -0.2, 1.4, -2.2, 0.7}), 0.01));
}

TEST_CASE("Values of two sizes are binomial, and their sum is known exactly") {
  // One value above 0 of five: S > 0 if it is drawn at least twice. Only roundings are left.
  constexpr double rounding = 1e-9;
  const double none = std::pow(0.8, 5);
  const double once = 5 * 0.2 * std::pow(0.8, 4);
  const double twice = 10 * 0.04 * std::pow(0.8, 3);
  CHECK_THAT(probability_of_sum_below_zero({DrawnValues{3, -1, -1, -1, -1}}),
             support::close_to(none + once, rounding));
  // Twice below and three times above is a sum of exactly 0, which counts half.
  CHECK_THAT(probability_of_sum_below_zero({DrawnValues{1.5, -1, -1, -1, -1}}),
             support::close_to(none + once + twice / 2, rounding));
}

TEST_CASE("Sums of one sign, and of none") {
  CHECK(probability_of_sum_below_zero({DrawnValues{0, 0, 0}}) == 0.5);
  CHECK(probability_of_sum_below_zero({DrawnValues{-1, -2, -3}}) == 1);
  CHECK(probability_of_sum_below_zero({DrawnValues{1, 2, 3}}) == 0);
  // No value above 0 is drawn in (2/3)^3 of the draws, all of them then 0.
  CHECK_THAT(probability_of_sum_below_zero({DrawnValues{0, 0, 3}}), support::close_to(4.0 / 27));
  CHECK_THAT(probability_of_sum_below_zero({DrawnValues{0, 0, -3}}),
             support::close_to(1 - 4.0 / 27));
}

TEST_CASE("A sum and its mirror image share all of the probability") {
  for (std::uint32_t i = 0; i < 200; ++i) {
    RandomStream stream({3, 4, i});
    DrawnValues values;
    const std::uint32_t n = 2 + stream.below(30);
    for (std::uint32_t j = 0; j < n; ++j)
      values.push_back(static_cast<double>(stream.below(21)) - 7);
    DrawnValues mirrored = values;
    for (double& x : mirrored)
      x = -x;
    const double below = probability_of_sum_below_zero({values});
    CHECK(below >= 0);
    CHECK(below <= 1);
    // Not exactly: of a sign with few values the other's are drawn by chance alone.
    CHECK_THAT(below + probability_of_sum_below_zero({mirrored}),
               Catch::Matchers::WithinAbs(1, 0.03));
  }
}

TEST_CASE("Two groups are drawn by themselves; a sign in both is no sum of this kind") {
  // Means of two groups against each other, by every draw.
  const std::vector<double> above{0.2, 0.5, 1.1};
  const std::vector<double> below{-0.7, -0.3, -0.9};
  double exact = 0;
  for (int a = 0; a < 27; ++a)
    for (int b = 0; b < 27; ++b) {
      const double total = above[a % 3] + above[a / 3 % 3] + above[a / 9] + below[b % 3] +
                           below[b / 3 % 3] + below[b / 9];
      exact += std::abs(total) < support::other_order ? 0.5 : total < 0 ? 1 : 0;
    }
  // Of three values a group, the formula is right to two parts in a hundred.
  CHECK_THAT(probability_of_sum_below_zero({above, below}),
             Catch::Matchers::WithinAbs(exact / 729, 0.02));
  CHECK_THROWS_AS(probability_of_sum_below_zero({DrawnValues{1, -1}, DrawnValues{2}}),
                  CalculationError);
}
