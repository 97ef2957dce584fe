#include "judgement/analyse_control.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("The untreated animals' own change has limits, if they were sampled twice") {
  const ControlAnalysis fell = analyse_control(
      support::group("k", {40, 33, 51, 28, 61, 44, 30, 52}, {10, 8, 13, 7, 15, 11, 8, 13}));
  CHECK(fell.sampled_twice == 8);
  CHECK_THAT(*fell.reduction, support::close_to(1 - 85.0 / 339));
  REQUIRE(fell.change);
  CHECK(fell.change->level == 0.925);
  CHECK(*fell.change->lower > 0); // beyond luck
  CHECK(*fell.change->lower < *fell.reduction);
  CHECK(*fell.change->upper > *fell.reduction);
  const ControlAnalysis held = analyse_control(
      support::group("k", {40, 33, 51, 28, 61, 44, 30, 52}, {44, 30, 49, 31, 58, 47, 28, 50}));
  CHECK(*held.change->lower < 0);
  CHECK(*held.change->upper > 0);
  const ControlAnalysis once = analyse_control(support::group("k", {}, {12, 7, 9}));
  CHECK_FALSE(once.reduction);
  CHECK_FALSE(once.change);
}
