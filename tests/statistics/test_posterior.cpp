#include "eggfall/statistics/posterior.hpp"

#include "eggfall/statistics/paired_posterior.hpp"
#include "support/support.hpp"

#include <array>
#include <cmath>
#include <iomanip>

using namespace eggfall;

namespace {

/// Of a log ratio: the median of a difference of two skewed laws is not quite that of the medians.
constexpr double skewed = 0.05;

} // namespace

TEST_CASE("A controlled design with a control that did not change is the paired one, wider") {
  const Group treated = support::group("T", trial_a::before, trial_a::after);
  const Group control = support::group("C", trial_a::control, trial_a::control);
  const auto paired = *posterior(*compare(Design::paired, treated, &control), {});
  const auto controlled = *posterior(*compare(Design::controlled, treated, &control), {});
  CHECK_THAT(controlled.quantile(0.5).value,
             Catch::Matchers::WithinAbs(paired.quantile(0.5).value, skewed));
  CHECK(controlled.limits(0.9).upper > paired.limits(0.9).upper);
  CHECK(controlled.limits(0.9).lower < paired.limits(0.9).lower);
}

TEST_CASE("A control that doubled by itself halves the ratio") {
  const Group treated = support::group("T", trial_a::before, trial_a::after);
  const std::vector<std::uint32_t> before{40, 60, 50, 45, 80, 30, 55, 70};
  std::vector<std::uint32_t> after = before;
  for (std::uint32_t& eggs : after)
    eggs *= 2;
  const Group control = support::group("C", before, after);
  const double paired =
      posterior(*compare(Design::paired, treated, &control), {})->quantile(0.5).value;
  const double controlled =
      posterior(*compare(Design::controlled, treated, &control), {})->quantile(0.5).value;
  CHECK_THAT(controlled - paired, Catch::Matchers::WithinAbs(-std::log(2.0), skewed));
}

TEST_CASE("A posterior that does not exist says why") {
  const Group nothing = support::group("T", {0, 0}, {1, 0});
  const Group control = support::group("C", {0, 0}, {0, 0});
  const Group treated = support::group("T", {5, 9}, {1, 0});
  CHECK(posterior(*compare(Design::paired, nothing, nullptr), {}).why_not() ==
        "no animal had an egg before treatment");
  CHECK(posterior(*compare(Design::two_group, treated, &control), {}).why_not() ==
        "no egg was counted in the control group");
  CHECK(posterior(*compare(Design::controlled, treated, &control), {}).why_not() ==
        "a group had no egg before treatment");
  const Group vanished = support::group("C", {7, 2}, {0, 0});
  CHECK(posterior(*compare(Design::controlled, treated, &vanished), {}).why_not() ==
        "the control group had no egg after treatment");
}

TEST_CASE("More allowance for variation within animals does not narrow the interval") {
  const Group treated = support::group("T", trial_a::before, trial_a::after);
  const Comparison comparison = *compare(Design::paired, treated, nullptr);
  double last = 0;
  for (const double factor : {0.25, 0.5, 1.0, 2.0, 4.0}) {
    const RatioLimits limits = posterior(comparison, scaled({}, factor))->limits(0.9);
    CHECK(limits.upper - limits.lower > last);
    last = limits.upper - limits.lower;
  }
}

TEST_CASE("The numbers are those of every other build and run") {
  // Printed by the release build of this commit with GCC 12; another build rounds its
  // many steps otherwise.
  const Group treated = support::group("T", trial_a::before, trial_a::after, 15, 5);
  const Group control = support::group("C", {10, 22, 7, 31, 15, 4}, {14, 15, 9, 40, 11, 6}, 15, 15);
  const std::vector<std::pair<Design, std::array<double, 2>>> stored{
      {Design::paired, {0.0053420394120933315, 0.024300818704170567}},
      {Design::two_group, {0.0052630506280132907, 0.038927034353624927}},
      {Design::controlled, {0.0046552958508697534, 0.025201042386601868}},
      {Design::baseline, {0.0054978290125846487, 0.042197220918551402}}};
  for (const auto& [design, limits] : stored) {
    const RatioLimits now = posterior(*compare(design, treated, &control), {})->limits(0.9);
    INFO(to_string(design) << std::setprecision(17) << " {" << now.lower << ", " << now.upper
                           << "}");
    CHECK_THAT(now.lower, support::close_to(limits[0], support::many_steps));
    CHECK_THAT(now.upper, support::close_to(limits[1], support::many_steps));
  }
}
