#include "eggfall/statistics/interval.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

TEST_CASE("The limits of a reduction are those of the ratio, turned round") {
  // reduction = 1 - rho: a ratio of 0.02 to 0.25 is a fall of 75% to 98%, and one above 1 a rise.
  const Interval fall =
      reduction_interval(Method::bootstrap_bca, 0.95, RatioLimits{0.02, 0.25, 0.001});
  REQUIRE(fall.usable());
  CHECK_THAT(*fall.lower, support::close_to(0.75));
  CHECK_THAT(*fall.upper, support::close_to(0.98));
  CHECK(fall.error == 0.001);
  CHECK(fall.method == Method::bootstrap_bca);
  CHECK(fall.level == 0.95);
  CHECK_THAT(*reduction_interval(Method::bootstrap_bca, 0.95, RatioLimits{0.5, 3}).lower,
             support::close_to(-2));
}

TEST_CASE("A ratio without limits gives a reduction without limits, and the reason") {
  const OrReason<RatioLimits> none = WhyNot{"no egg was found"};
  CHECK_FALSE(none);
  const Interval interval = reduction_interval(Method::log_ratio_1992, 0.9, none);
  CHECK_FALSE(interval.lower);
  CHECK_FALSE(interval.upper);
  CHECK_FALSE(interval.usable());
  CHECK(interval.why_not == "no egg was found");
}

TEST_CASE("Limits beyond any counts there can be are none") {
  const auto with_upper = [](double ratio) {
    return reduction_interval(Method::paired_log_ratio, 0.999, RatioLimits{0, ratio});
  };
  CHECK(with_upper(1e14).usable()); // 1,000,000 eggs at a factor of 100,000, over one at 0.001
  for (const double ratio : {1.01e14, 1e300, HUGE_VAL, std::nan("")}) {
    CHECK_FALSE(with_upper(ratio).usable());
    CHECK(with_upper(ratio).why_not ==
          "so few animals that it would reach beyond any counts there can be");
  }
}

TEST_CASE("One limit alone is no interval") {
  Interval interval;
  interval.lower = 0.9;
  CHECK_FALSE(interval.usable());
  interval.upper = 0.95;
  CHECK(interval.usable());
}

TEST_CASE("Methods have names for files and for people") {
  CHECK(to_string(Method::bootstrap_bca) == "bootstrap-bca");
  CHECK(title(Method::bootstrap_bca) == "bootstrap, BCa");
  CHECK(parse_method("pooled-count-exact") == Method::egg_totals_exact);
  CHECK_FALSE(parse_method("by-eye"));
  CHECK_THROWS_AS(to_string(static_cast<Method>(99)), CalculationError);
}

TEST_CASE("A level is between 0 and 1, and neither of them") {
  CHECK_NOTHROW(check_level(0.9));
  CHECK_NOTHROW(check_level(1e-9));
  for (const double level : {0.0, 1.0, -0.5, 90.0, std::nan("")})
    CHECK_THROWS_AS(check_level(level), InputError);
}

TEST_CASE(
    "An interval holds a truth that lies on its limit, but for rounding, and no other outside") {
  constexpr double rounding = 1e-12;
  const auto outcome_of = [](double lower, double upper, double truth) {
    Interval interval;
    interval.lower = lower;
    interval.upper = upper;
    return outcome(interval, truth);
  };
  CHECK(outcome_of(0.25, 0.75, 0.5) == Outcome::held);
  CHECK(outcome_of(0.25, 0.75, 0.75) == Outcome::held);
  CHECK(outcome_of(0.25, 0.75, 0.25) == Outcome::held);
  CHECK(outcome_of(0.25, 0.5 - rounding, 0.5) == Outcome::held);
  CHECK(outcome_of(0.5 + rounding, 0.75, 0.5) == Outcome::held);
  CHECK(outcome_of(0.25, 0.5 - 3 * rounding, 0.5) == Outcome::truth_above);
  CHECK(outcome_of(0.5 + 3 * rounding, 0.75, 0.5) == Outcome::truth_below);
  CHECK(outcome_of(0.25, 0.4, 0.5) == Outcome::truth_above);
  CHECK(outcome_of(0.6, 0.75, 0.5) == Outcome::truth_below);
  CHECK(outcome({}, 0.5) == Outcome::unusable);
}
