#include "eggfall/statistics/proportion.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("Shares have the Jeffreys limits of R's qbeta") {
  // R 4.2.2 qbeta, tests/published/reference.R.
  const Proportion p = jeffreys_proportion(29, 80, 0.95);
  CHECK(p.value == 29.0 / 80);
  CHECK_THAT(*p.lower, support::close_to(0.263534724752));
  CHECK_THAT(*p.upper, support::close_to(0.471214125217));
  CHECK_THAT(*jeffreys_proportion(1, 10, 0.95).lower, support::close_to(0.0110116737632));
  CHECK_THAT(*jeffreys_proportion(1, 10, 0.95).upper, support::close_to(0.3813147710666));
  CHECK_THAT(*jeffreys_proportion(31'000, 100'000, 0.95).lower, support::close_to(0.307139020499));
  CHECK_THAT(*jeffreys_proportion(31'000, 100'000, 0.95).upper, support::close_to(0.312871977682));
}

TEST_CASE("None and all of them: the limit on that side is 0 and 1") {
  // R 4.2.2 qbeta, tests/published/reference.R; the ends as in Brown, Cai & DasGupta 2001.
  CHECK(*jeffreys_proportion(0, 7, 0.95).lower == 0);
  CHECK_THAT(*jeffreys_proportion(0, 7, 0.95).upper, support::close_to(0.292436173662));
  CHECK_THAT(*jeffreys_proportion(12, 12, 0.95).lower, support::close_to(0.814694061688));
  CHECK(*jeffreys_proportion(12, 12, 0.95).upper == 1);
}

TEST_CASE("What is counted and what is not change places") {
  for (const std::uint64_t x : {0U, 1U, 5U, 9U, 19U}) {
    const Proportion p = jeffreys_proportion(x, 19, 0.9);
    const Proportion rest = jeffreys_proportion(19 - x, 19, 0.9);
    CHECK(*p.lower == Approx(1 - *rest.upper).margin(1e-14)); // but for the rounding of 1 - x
    CHECK(*p.lower <= *p.value);
    CHECK(*p.value <= *p.upper);
  }
}

TEST_CASE("Of nothing there is no share") {
  const Proportion none = jeffreys_proportion(0, 0, 0.95);
  CHECK_FALSE(none.value);
  CHECK_FALSE(none.lower);
  CHECK_FALSE(none.upper);
  CHECK_THROWS_AS(jeffreys_proportion(2, 1, 0.95), CalculationError);
  CHECK_THROWS_AS(jeffreys_proportion(1, 2, 1.0), InputError);
}
