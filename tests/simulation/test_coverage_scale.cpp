#include "simulation/coverage_scale.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace eggfall;

TEST_CASE("Every step on the axis of coverages halves the misses") {
  const double step = stretched_coverage(0.5);
  CHECK(step > 0);
  for (const double coverage : {0.0, 0.5, 0.8, 0.9, 0.95, 0.98})
    CHECK(stretched_coverage(1 - (1 - coverage) / 2) - stretched_coverage(coverage) ==
          Approx(step));
}

TEST_CASE("The axis of coverages goes from none to the rarest miss, and keeps what is rarer") {
  CHECK(stretched_coverage(0) == 0);
  CHECK(stretched_coverage(1 - rarest_miss) == Approx(1));
  CHECK(stretched_coverage(0.9999) == 1);
  CHECK(stretched_coverage(1) == 1);
}

TEST_CASE("90 and 95 of 100 lie as far apart as no axis of even steps has them") {
  CHECK(stretched_coverage(0.95) - stretched_coverage(0.90) > 2 * (0.95 - 0.90));
  CHECK(std::ranges::is_sorted(coverage_marks));
}
