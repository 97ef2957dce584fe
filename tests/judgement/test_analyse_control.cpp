#include "judgement/analyse_control.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("The untreated animals tell of the season, if they were sampled twice") {
  const ControlAnalysis fell = analyse_control(
      support::group("k", {40, 33, 51, 28, 61, 44, 30, 52}, {10, 8, 13, 7, 15, 11, 8, 13}), {});
  CHECK(fell.sampled_twice == 8);
  CHECK_THAT(*fell.reduction, support::close_to(1 - 85.0 / 339));
  REQUIRE(fell.season);
  const RatioLimits limits = fell.season->limits(0.9);
  CHECK(limits.upper < 1); // beyond luck
  // A season that moves counts so far is taken for likelier a little nearer to none.
  CHECK(std::exp(fell.season->quantile(0.5).value) > 85.0 / 339);
  CHECK(limits.lower < 85.0 / 339);
  const ControlAnalysis held = analyse_control(
      support::group("k", {40, 33, 51, 28, 61, 44, 30, 52}, {44, 30, 49, 31, 58, 47, 28, 50}), {});
  CHECK(held.season->limits(0.9).lower < 1);
  CHECK(held.season->limits(0.9).upper > 1);
  const ControlAnalysis once = analyse_control(support::group("k", {}, {12, 7, 9}), {});
  CHECK_FALSE(once.reduction);
  CHECK_FALSE(once.season);
  CHECK_FALSE(analyse_control(support::group("k", {0, 0, 0}, {2, 0, 1}), {}).season);
}
