#include "report/figures/fall_axis.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

const SvgBox box{10, 0, 300, 50};

} // namespace

TEST_CASE("The scale of falls is that of the logarithm of the eggs left") {
  const FallAxis axis(box, {0.6, 0.992});
  // From 50% to 99.95%: 50 and 0.05 of 100 eggs left, three tens apart; arithmetic.
  CHECK_THAT(axis.at(0.5), support::close_to(10));
  CHECK_THAT(axis.at(0.95), support::close_to(10 + 300.0 / 3));
  CHECK_THAT(axis.at(0.995), support::close_to(10 + 2 * 300.0 / 3));
  CHECK_THAT(axis.at(0.9995), support::close_to(310));
}

TEST_CASE(
    "The axis ends at a round number beyond what is drawn, and goes no further than it must") {
  CHECK_THAT(FallAxis(box, {0.85, 0.95}).at(0.8), support::close_to(10));
  CHECK_THAT(FallAxis(box, {0.85, 0.95}).at(0.99), support::close_to(310));
  CHECK_THAT(FallAxis(box, {0.85, 0.999}).at(0.9995), support::close_to(310));
  CHECK_THAT(FallAxis(box, {-0.2}).at(-1), support::close_to(10));
  CHECK_THAT(FallAxis(box, {-50}).at(-9), support::close_to(10));
}

TEST_CASE("What lies beyond an end stands at it, and is told") {
  const FallAxis axis(box, {0.5, 0.9999});
  CHECK(axis.beyond_right(0.9999));
  CHECK(axis.beyond_right(1));
  CHECK(axis.beyond_left(0.49));
  CHECK_FALSE(axis.beyond_left(0.5));
  CHECK_FALSE(axis.beyond_right(0.9995));
  CHECK_THAT(axis.at(1), support::close_to(310));
  CHECK_THAT(axis.at(-3), support::close_to(10));
}
