#include "eggfall/base/percent.hpp"

#include <catch2/catch.hpp>

#include <optional>

using namespace eggfall;

TEST_CASE("Percents are proportions without noise") {
  CHECK(99.9 / 100 != 0.999);
  CHECK(of_percent(99.9) == 0.999);
  CHECK(of_percent(90) == 0.9);
  CHECK(of_percent(50) == 0.5);
  CHECK(of_percent(68.27) == 0.6827);
}

TEST_CASE("A percentage has one decimal, and is 100.0% only for the whole") {
  CHECK(percent(0.9574) == "95.7%");
  CHECK(percent(0) == "0.0%");
  CHECK(percent(1) == "100.0%");
  CHECK(percent(0.9994) == "99.9%");
  // 99.96 would be 100.0 at one decimal, and 99.998 at two.
  CHECK(percent(0.9996) == "99.96%");
  CHECK(percent(0.99998) == "over 99.99%");
  CHECK(percent(1.25) == "125.0%");
}

TEST_CASE("No limit of a true fall is all of it") {
  CHECK(percent_of_limit(1) == "over 99.99%");
  CHECK(percent_of_limit(0.99998) == "over 99.99%");
  CHECK(percent_of_limit(0.9996) == "99.96%");
  CHECK(percent_of_limit_beside(1, 0.95) == "over 99.99%");
  CHECK(percent_of_limit_beside(0.9499, 0.95) == "94.99%");
}

TEST_CASE("A percentage beside a threshold has as many decimals as set them apart") {
  CHECK(percent_beside(0.905, 0.9) == "90.5%");
  CHECK(percent_beside(0.9001, 0.9) == "90.01%");
  CHECK(percent_beside(0.899999, 0.9) == "89.9999%");
  CHECK(percent_beside(0.9, 0.9) == "90.0%");
  CHECK(percent_beside(0.99998, 0.95) == "over 99.99%");
  CHECK(percent_beside(1, 0.95) == "100.0%");
}

TEST_CASE("The number in percent has no noise of binary arithmetic") {
  // In binary, 100 x 0.07 is 7.000000000000001, and 100 x 0.57 is 56.99999999999999.
  CHECK(in_percent(0.07) == 7.0);
  CHECK(in_percent(0.57) == 57.0);
  // Six decimals are kept.
  CHECK(in_percent(1.0 / 3) == 33.333333);
  CHECK(in_percent(-0.5) == -50.0);
}

TEST_CASE("A percentage that there is none of is said to be missing") {
  CHECK(percent_or_missing(std::nullopt) == "not available");
  CHECK(percent_or_missing(0.5) == "50.0%");
}
