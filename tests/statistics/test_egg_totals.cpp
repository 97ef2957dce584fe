#include "statistics/egg_totals.hpp"

#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

constexpr EggTotals totals{8, 188, 1};

} // namespace

TEST_CASE("Pooled-count limits of Trial A agree with R's qbeta") {
  // R 4.2.2 qbeta, tests/published/reference.R.
  const RatioLimits jeffreys = jeffreys_limits(totals, 0.90);
  CHECK_THAT(100 * (1 - jeffreys.upper), support::close_to(92.5600232441));
  CHECK_THAT(100 * (1 - jeffreys.lower), support::close_to(97.7187708877));
  const RatioLimits exact = exact_limits(totals, 0.90);
  CHECK_THAT(100 * (1 - exact.upper), support::close_to(92.1903394502));
  CHECK_THAT(100 * (1 - exact.lower), support::close_to(97.9102939200));
  CHECK_THAT(100 * (1 - exact_limits(totals, 0.95).upper), support::close_to(91.4414929888));
}

TEST_CASE("Nothing found: the limit is close to the rule of three") {
  // Hanley & Lippman-Hand 1983, JAMA 249:1743-1745: 0 of n allows up to about 3/n at
  // 95%. The exact 1 - 0.05^(1/n) = 2.9957/n - 2.9957^2/(2n^2) + ..., which is below 3/n
  // by 0.14% and a further 1.5/n, relatively.
  for (const std::uint64_t n : {50U, 100U, 400U}) {
    const double rho = highest_ratio_if_none(n, 1, 0.95);
    const double p = rho / (1 + rho);
    CHECK(p < 3.0 / static_cast<double>(n));
    CHECK_THAT(
        p, support::close_to(3.0 / static_cast<double>(n), 0.0015 + 1.5 / static_cast<double>(n)));
  }
  SECTION("and it is the upper limit of the exact interval") {
    // A power on one side, and an inverse beta function found by steps on the other.
    CHECK_THAT(highest_ratio_if_none(60, 1, 0.95),
               support::close_to(exact_limits({0, 60, 1}, 0.90).upper, 1e-10));
  }
  CHECK(exact_limits({0, 60, 1}, 0.9).lower == 0);
  CHECK(jeffreys_limits({0, 60, 1}, 0.9).lower == 0);
}

TEST_CASE("A single egg on each side has limits on both sides") {
  // R 4.2.2: odds(qbeta(0.05, 1, 2)), odds(qbeta(0.95, 2, 1)), and odds(qbeta(c(0.05,
  // 0.95), 1.5, 1.5)), with odds <- function(p) p/(1 - p).
  const RatioLimits exact = exact_limits({1, 1, 1}, 0.90);
  CHECK_THAT(exact.lower, support::close_to(0.02597835208515));
  CHECK_THAT(exact.upper, support::close_to(38.49358868961784));
  const RatioLimits jeffreys = jeffreys_limits({1, 1, 1}, 0.90);
  CHECK_THAT(jeffreys.lower, support::close_to(0.10779778853818));
  CHECK_THAT(jeffreys.upper, support::close_to(9.27662815314480));
}

TEST_CASE("Exact limits hold Jeffreys limits") {
  for (const std::uint64_t above : {0U, 1U, 8U, 40U, 300U}) {
    const EggTotals t{above, 188, 0.4};
    CHECK(exact_limits(t, 0.9).lower <= jeffreys_limits(t, 0.9).lower);
    CHECK(exact_limits(t, 0.9).upper >= jeffreys_limits(t, 0.9).upper);
  }
}

TEST_CASE("Limits of a great rise are as exact as those of a great fall") {
  // After over before is the inverse of before over after; found by the sweep at a rise of a
  // million times, where 1 - p keeps few digits.
  const EggTotals fall{3, 3'000'000, 1};
  const EggTotals rise{3'000'000, 3, 1};
  for (const auto limits : {jeffreys_limits, exact_limits}) {
    CHECK_THAT(1 / limits(rise, 0.95).upper,
               support::close_to(limits(fall, 0.95).lower, support::other_order));
    CHECK_THAT(1 / limits(rise, 0.95).lower,
               support::close_to(limits(fall, 0.95).upper, support::other_order));
  }
}

TEST_CASE("Pooled totals take factors and group sizes into account") {
  const Group treated = support::group("T", {20, 30, 10}, {2, 0, 1}, 15, 5);
  const Group control = support::group("C", {}, {12, 14}, 1, 15);
  const auto paired = egg_totals(*compare(Design::paired, treated, nullptr));
  REQUIRE(paired);
  CHECK(paired->above == 3);
  CHECK(paired->below == 60);
  // rho = odds x f_after / f_before
  CHECK_THAT(paired->exposure_ratio, support::close_to(5.0 / 15, support::other_order));
  const auto two = egg_totals(*compare(Design::two_group, treated, &control));
  CHECK_THAT(two->exposure_ratio, support::close_to((2.0 / 15) / (3.0 / 5), support::other_order));
}

TEST_CASE("Totals that cannot be pooled say why") {
  const Group treated = support::group("T", {20, 30, 10}, {2, 0, 1});
  const Group control = support::group("C", {9, 8}, {12, 14});
  CHECK(egg_totals(*compare(Design::controlled, treated, &control)).why_not() ==
        "it compares two totals of eggs, and this design has four");
  Group mixed = treated;
  mixed.animals[1].after->factor = MultiplicationFactor(5);
  CHECK(egg_totals(*compare(Design::paired, mixed, nullptr)).why_not() ==
        "the animals were counted with different factors, so their eggs do not add up");
  CHECK(egg_totals(*compare(Design::paired, support::group("T", {0, 0}, {1, 0}), nullptr))
            .why_not() == "no egg was counted to compare with");
  mixed = treated;
  mixed.animals[1].before->factor = MultiplicationFactor(5);
  CHECK(egg_totals(*compare(Design::paired, mixed, nullptr)).why_not() ==
        "the animals were counted with different factors, so their eggs do not add up");
  for (const auto when : {&Animal::before, &Animal::after}) {
    Group pools = treated;
    (pools.animals[1].*when)->animals = 5;
    CHECK(egg_totals(*compare(Design::paired, pools, nullptr)).why_not() ==
          "the pools are of different sizes, so their eggs do not add up");
  }
  Comparison lopsided = *compare(Design::controlled, treated, &control);
  lopsided.arms[1].below.clear();
  CHECK(egg_totals(lopsided).why_not() ==
        "it compares two totals of eggs, and this design has four");
  for (const double exposure : {0.0, -1.0, HUGE_VAL})
    CHECK_THROWS_AS(jeffreys_limits({1, 5, exposure}, 0.9), CalculationError);
  CHECK_THROWS_AS(exact_limits({1, 0, 1}, 0.9), CalculationError);
  CHECK_THROWS_AS(exact_limits(totals, 1.5), InputError);
}

TEST_CASE("Limits of pooled counts go with the exposure ratio") {
  constexpr double half = 0.5; // twice as much counted after treatment
  for (const auto limits : {jeffreys_limits, exact_limits}) {
    const RatioLimits alike = limits(totals, 0.90);
    const RatioLimits finer = limits({totals.above, totals.below, half}, 0.90);
    CHECK_THAT(finer.lower, support::close_to(half * alike.lower));
    CHECK_THAT(finer.upper, support::close_to(half * alike.upper));
  }
  CHECK_THAT(highest_ratio_if_none(60, half, 0.95),
             support::close_to(half * highest_ratio_if_none(60, 1, 0.95)));
  CHECK_THROWS_AS(highest_ratio_if_none(0, 1, 0.95), CalculationError);
}
