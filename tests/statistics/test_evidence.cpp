#include "eggfall/statistics/evidence.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/count_luck.hpp"
#include "support/densities.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <cmath>

using namespace eggfall;

TEST_CASE("Only the methods of a design give limits, whoever asks for another") {
  const Group treated = support::group("T", {20, 30, 10, 40}, {2, 5, 1, 3});
  const Group control = support::group("C", {18, 25, 12, 33}, {20, 24, 15, 30});
  std::vector<Method> all;
  for (const Design design : all_designs)
    for (const Method method : methods_for(design))
      if (std::ranges::find(all, method) == all.end())
        all.push_back(method);
  for (const Design design : all_designs) {
    const Evidence evidence(*compare(design, treated, &control), {});
    const std::vector<Method> its = evidence.methods();
    for (const Method method : all) {
      INFO(to_string(design) << ' ' << to_string(method));
      const Interval interval = evidence.interval(method, 0.90);
      if (std::ranges::find(its, method) == its.end())
        CHECK(interval.why_not == "it is not made for this design");
      else
        CHECK(interval.usable());
    }
  }
  const Evidence paired(*compare(Design::paired, treated, nullptr), {});
  CHECK_THROWS_AS(paired.interval(Method::controlled_posterior, 1), InputError);
}

TEST_CASE("Where no method gives limits the headline says why") {
  const Group none = support::group("T", {0, 0, 0}, {0, 0, 0});
  const Evidence evidence(*compare(Design::paired, none, nullptr), {});
  const Interval headline = evidence.headline(0.90);
  CHECK_FALSE(headline.usable());
  CHECK(headline.method == Method::guarded_posterior);
  CHECK_FALSE(headline.why_not.empty());
  CHECK_FALSE(evidence.reduction());
}

namespace {

/// What the guarded interval listens to, of paired counts.
struct Heard {
  Evidence evidence;
  Interval guarded = evidence.interval(Method::guarded_posterior, 0.90);
  Interval posterior = evidence.interval(Method::paired_posterior, 0.90);
  OrReason<RatioLimits> luck = CountLuck(evidence.comparison()).limits(0.90);
  OrReason<GuardedBy> guarded_by =
      evidence.guarded().transformed([](const GuardedLaw& law) { return law.guarded_by(0.90); });
};

Heard heard(const std::vector<std::uint32_t>& before, const std::vector<std::uint32_t>& after) {
  return {Evidence(*compare(Design::paired, support::group("T", before, after), nullptr), {})};
}

} // namespace

TEST_CASE("With few eggs the guarded interval is no narrower than the luck of counting") {
  const std::vector<std::uint32_t> two_each(15, 2);
  std::vector<std::uint32_t> one_egg(15, 0);
  one_egg[3] = 1;
  const Heard few = heard(two_each, one_egg);
  REQUIRE(few.posterior.usable());
  REQUIRE(1 - few.luck->upper < *few.posterior.lower);
  CHECK(*few.guarded.lower == 1 - few.luck->upper);
  CHECK(few.guarded_by->lower == Witness::luck);
  // The same counts with the prior made wider and narrower: no prior makes eggs of none.
  for (const double factor : {0.5, 2.0})
    CHECK(*few.evidence.guarded_interval(0.90, factor).lower <= 1 - few.luck->upper);
  // Turned around it is a rise that so few eggs cannot be sure of.
  const Heard rise = heard(one_egg, two_each);
  CHECK(*rise.guarded.upper == 1 - rise.luck->lower);
  CHECK(rise.guarded_by->upper == Witness::luck);
}

TEST_CASE("Where no egg was found the luck of counting bounds the fall from below alone") {
  const Heard none = heard({3, 1, 2, 0, 4, 1, 2, 3, 1, 2}, std::vector<std::uint32_t>(10, 0));
  REQUIRE(none.luck->lower == 0);
  CHECK(*none.guarded.lower == 1 - none.luck->upper);
  CHECK(none.guarded_by->lower == Witness::luck);
  CHECK(*none.guarded.upper == *none.posterior.upper);
  CHECK(none.guarded_by->upper == Witness::posterior);
}

TEST_CASE("Each witness is named where it reaches furthest") {
  // Two of fourteen animals uncured: a matter of animals, not of how many eggs were counted.
  const Heard uncured = heard({40, 25, 60, 33, 18, 52, 44, 29, 61, 37, 22, 48, 35, 50},
                              {0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 40, 55});
  CHECK(uncured.guarded_by->lower == Witness::animals);
  CHECK(*uncured.guarded.lower ==
        1 - uncured.evidence.guarded()->limits(Witness::animals, 0.90)->upper);
  // Many eggs, one like another: the prior of what may vary reaches furthest.
  const Heard alike = heard({200, 210, 190, 205, 195, 200}, {20, 21, 19, 21, 20, 19});
  CHECK(*alike.guarded_by == GuardedBy{Witness::posterior, Witness::posterior});
  CHECK_FALSE(heard({0, 0, 0}, {0, 0, 0}).guarded_by);
  // Four animals are too few for the animals to be a witness, and so is none with eggs left.
  CHECK_FALSE(heard({20, 31, 18, 25}, {2, 4, 0, 3}).evidence.guarded()->speaks(Witness::animals));
  CHECK_FALSE(
      heard({20, 31, 18, 25, 9}, {0, 0, 0, 0, 0}).evidence.guarded()->speaks(Witness::animals));
}

TEST_CASE("Each design has the methods that its counts allow") {
  using enum Method;
  CHECK(methods_for(Design::paired) ==
        std::vector{guarded_posterior, paired_posterior, bootstrap_bca, bootstrap_percentile,
                    egg_totals_jeffreys, egg_totals_exact, paired_log_ratio, log_ratio_1992});
  for (const Design design : {Design::two_group, Design::baseline})
    CHECK(methods_for(design) == std::vector{guarded_posterior, two_group_posterior, bootstrap_bca,
                                             bootstrap_percentile, egg_totals_jeffreys,
                                             egg_totals_exact, log_ratio_1992});
  CHECK(methods_for(Design::controlled) == std::vector{guarded_posterior, controlled_posterior,
                                                       bootstrap_bca, bootstrap_percentile,
                                                       paired_log_ratio});
}

TEST_CASE("The fall is one less what is left, and the exact limits hold those of Jeffreys") {
  const Evidence evidence(
      *compare(Design::paired, support::group("T", {20, 30, 10, 40}, {2, 5, 1, 3}), nullptr), {});
  CHECK_THAT(*evidence.reduction(), support::close_to(1 - 11.0 / 100));
  const Interval exact = evidence.interval(Method::egg_totals_exact, 0.90);
  const Interval jeffreys = evidence.interval(Method::egg_totals_jeffreys, 0.90);
  CHECK(*exact.lower < *jeffreys.lower);
  CHECK(*exact.upper > *jeffreys.upper);
}

TEST_CASE("The animals are heard from five on, where hardly any resample lacks an egg before") {
  const auto speak = [](const std::vector<std::uint32_t>& before,
                        const std::vector<std::uint32_t>& after) {
    return heard(before, after).evidence.guarded()->speaks(Witness::animals);
  };
  CHECK(speak({20, 31, 18, 25, 9}, {2, 4, 0, 3, 1}));
  CHECK_FALSE(speak({20, 31, 18, 25}, {2, 4, 0, 3}));
  CHECK_FALSE(speak({9, 5, 0, 0, 0}, {1, 0, 2, 0, 1})); // (3/5)^5 = 7.8% have none
  CHECK(speak({9, 5, 4, 3, 0}, {1, 0, 2, 0, 1}));       // (1/5)^5 = 0.03%
}

TEST_CASE("Whatever lies beyond half an egg is put there, in EPG and with the control's change") {
  // 30 EPG before; half an egg in ten samples at 50 EPG an egg would be 2.5 EPG.
  const Group none = support::group("T", std::vector<std::uint32_t>(10, 2),
                                    std::vector<std::uint32_t>(10, 0), 15, 50);
  const auto half_of_the_luck = [](const Comparison& comparison) {
    const Evidence evidence(comparison, {});
    return evidence.guarded()->law_of(Witness::luck).quantile(0.25).value;
  };
  constexpr double of_the_grid = 0.02; // a step of the grid, on which the mass of a point is spread
  CHECK_THAT(half_of_the_luck(*compare(Design::paired, none, nullptr)),
             Catch::Matchers::WithinAbs(std::log(2.5 / 30), of_the_grid));
  // Twice the control's eggs after as before: 2.5/30 of what would have been there without a drench
  // is half as much.
  Group control = support::group("C", std::vector<std::uint32_t>(10, 20),
                                 std::vector<std::uint32_t>(10, 40), 15, 15);
  control.role = Role::control;
  CHECK_THAT(half_of_the_luck(*compare(Design::controlled, none, &control)),
             Catch::Matchers::WithinAbs(std::log(2.5 / 30 / 2), of_the_grid));
  // Against the control after treatment: 600 EPG.
  CHECK_THAT(half_of_the_luck(*compare(Design::two_group, none, &control)),
             Catch::Matchers::WithinAbs(std::log(2.5 / 600), of_the_grid));
  // A resample without an egg before has half an egg there: 4 eggs after, in as many samples. Its
  // grid is the wider by that point, and its steps too.
  const Heard few = heard({9, 5, 4, 3, 0}, {1, 0, 2, 0, 1});
  CHECK_THAT(few.evidence.guarded()->law_of(Witness::animals).quantile(1 - 1e-5).value,
             Catch::Matchers::WithinAbs(std::log(4 / 0.5), 4 * of_the_grid));
}

TEST_CASE("Limits whose error is a twentieth of their width or more are not given") {
  const auto limits = [](double sd) { // on 17 points from -5 to 1, which are 0.375 apart
    const auto log_density = [=](double eta) { return -std::pow((eta + 2) / sd, 2) / 2; };
    return posterior_limits(densities::on_grid(log_density, -5, 1, 17), 0.90);
  };
  CHECK(limits(1.0).has_value());
  const OrReason<RatioLimits> narrow = limits(0.1);
  CHECK_FALSE(narrow.has_value());
  CHECK(narrow.why_not() == "its calculation was not precise enough");
}
