#include "eggfall/statistics/count_spread.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <random>

using namespace eggfall;

TEST_CASE("k by maximum likelihood agrees with print and with MASS") {
  // Bliss & Fisher 1953, Biometrics 9:176-200, mites on apple leaves: mean 1.146667,
  // k 1.024592 (MASS 7.3-58 glm.nb, tests/published/reference.R).
  std::vector<std::uint32_t> mites;
  const std::vector<std::size_t> leaves{70, 38, 17, 10, 9, 3, 2, 1};
  for (std::uint32_t x = 0; x < leaves.size(); ++x)
    mites.insert(mites.end(), leaves[x], x);
  const CountSpread spread = count_spread(mites);
  CHECK_THAT(spread.mean, support::close_to(1.146667, 5e-7)); // half the last printed digit
  REQUIRE(spread.aggregation == Aggregation::clumped);
  // glm.nb stops at a change of 1.5e-8 in the deviance, hence 1e-6.
  CHECK_THAT(*spread.k, support::close_to(1.02459238679, support::repeated_fit));
  CHECK_THAT(*count_spread(trial_a::before).k,
             support::close_to(1.98751925152, support::repeated_fit));
  CHECK_THAT(*count_spread(trial_a::control).k,
             support::close_to(1.77080916927, support::repeated_fit));
  CHECK_THAT(*count_spread(trial_a::after).k,
             support::close_to(1.54162072291, support::repeated_fit));
}

TEST_CASE("k of data without a finite answer is a named case, not a number") {
  CHECK(count_spread({}).aggregation == Aggregation::too_few_animals);
  CHECK(count_spread({7}).aggregation == Aggregation::too_few_animals);
  CHECK(count_spread({0, 0, 0}).aggregation == Aggregation::all_zero);
  CHECK(count_spread({4, 4, 4, 4}).aggregation == Aggregation::not_clumped);
  CHECK(count_spread({3, 4, 5, 4}).aggregation == Aggregation::not_clumped);
  for (const auto& counts : {std::vector<std::uint32_t>{7}, {0, 0}, {4, 4, 4}})
    CHECK_FALSE(count_spread(counts).k);
  // Variance with divisor n a hair above the mean: {0,0,2,2} has 1 and 1 (not above).
  CHECK(count_spread({0, 0, 2, 2}).aggregation == Aggregation::not_clumped);
  CHECK(count_spread({0, 0, 2, 2, 3}).aggregation == Aggregation::clumped);
  // Mean 2399 and variance 2400: by moments k would be 2399^2, beyond what can be told from none.
  CHECK(count_spread({2339, 2399, 2459}).aggregation == Aggregation::not_clumped);
}

TEST_CASE("k is found for the most clumped and the largest counts") {
  std::vector<std::uint32_t> one_heavy(50, 0);
  one_heavy.back() = EggsSeen::largest;
  const CountSpread spread = count_spread(one_heavy);
  REQUIRE(spread.k);
  CHECK(*spread.k > 0);
  CHECK(*spread.k < 0.01);
}

TEST_CASE("k does not depend on the order of the animals") {
  std::vector<std::uint32_t> counts = trial_a::before;
  const double k = *count_spread(counts).k;
  std::ranges::reverse(counts);
  CHECK_THAT(*count_spread(counts).k, support::close_to(k, support::other_order));
}
