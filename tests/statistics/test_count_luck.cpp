#include "statistics/count_luck.hpp"

#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

Comparison pairs(const std::vector<std::uint32_t>& before, const std::vector<std::uint32_t>& after,
                 double factor_before = 1, double factor_after = 1) {
  return *compare(Design::paired, support::group("T", before, after, factor_before, factor_after),
                  nullptr);
}

OrReason<RatioLimits> limits(const Comparison& comparison, double level) {
  return CountLuck(comparison).limits(level);
}

/// Efficacy that the lower limit leaves when none of so many eggs is found again.
double lowest_efficacy_if_none(std::uint32_t eggs) {
  return 1 - limits(pairs({eggs}, {0}), 0.90)->upper;
}

/// Two animals at different ratios of factors: `first` after of `first_both` eggs at the ratio
/// given, the other at equal factors.
Comparison mixed(std::uint32_t first_both, std::uint32_t first, double ratio,
                 std::uint32_t second_both, std::uint32_t second, double other_ratio = 1) {
  Group group = support::group("T", {first_both - first, second_both - second}, {first, second});
  group.animals[0].before->factor = MultiplicationFactor(ratio);
  group.animals[1].before->factor = MultiplicationFactor(other_ratio);
  return *compare(Design::paired, group, nullptr);
}

} // namespace

TEST_CASE("Mid-P limits of one binomial agree with R's pbinom") {
  // R 4.2.2: midp <- function(b, a, level, shift = 0) {
  //   limit <- function(above) exp(uniroot(function(e) { p <- plogis(e + shift)
  //     log((pbinom(b, a + b, p, !above) + pbinom(b - 1, a + b, p, !above)) / 2) -
  //       log((1 - level) / 2) }, c(-30, 30), tol = 1e-14)$root)
  //   c(limit(TRUE), limit(FALSE)) }
  struct Known {
    std::uint32_t after, before;
    double level, factor_before, lower, upper;
  };
  for (const Known& known : {
           Known{8, 188, 0.90, 1, 0.0224820723963801, 0.0748638134353181},
           Known{1, 1, 0.90, 1, 0.0526315789473684, 19},
           Known{3, 60, 0.95, 3, 0.00413528079055972, 0.04723507095926314}, // shift = log(3)
           Known{300, 120, 0.99, 1, 1.90054450053106, 3.31973958362474},
           Known{20'000, 500'000, 0.90, 1, 0.0395278127164114, 0.0404767232851464},
       }) {
    INFO(known.after << " after " << known.before);
    const RatioLimits found =
        *limits(pairs({known.before}, {known.after}, known.factor_before), known.level);
    CHECK_THAT(found.lower, support::close_to(known.lower));
    CHECK_THAT(found.upper, support::close_to(known.upper));
  }
}

TEST_CASE("So many eggs before, and none after, are needed to claim an efficacy") {
  // None of N eggs after: P(X = 0)/2 = (1/(1 + rho))^N / 2 = 0.05 one-sided, so that
  // N = log(10)/log(1 + rho): 24.16, 47.19 and 231.41 eggs. The search for a log ratio ends within
  // 1e-12 of it.
  struct Needed {
    std::uint32_t eggs;
    double efficacy;
  };
  for (const auto& [eggs, efficacy] : {Needed{25, 0.90}, Needed{48, 0.95}, Needed{232, 0.99}}) {
    CHECK(lowest_efficacy_if_none(eggs) >= efficacy);
    CHECK(lowest_efficacy_if_none(eggs - 1) < efficacy);
    CHECK_THAT(lowest_efficacy_if_none(eggs),
               support::close_to(2 - std::pow(10.0, 1.0 / eggs), 1e-10));
  }
}

TEST_CASE("Without an egg on one side the luck of counting has a limit on the other alone") {
  const RatioLimits none_after = *limits(pairs({9, 16}, {0, 0}), 0.90);
  CHECK(none_after.lower == 0);
  CHECK(none_after.upper > 0);
  CHECK(limits(pairs({0, 0}, {3, 1}), 0.90).why_not() == "no egg was counted to compare with");
  CHECK(limits(pairs({0, 0}, {0, 0}), 0.90).why_not() == "no egg was counted to compare with");
  CHECK_THROWS_AS(limits(pairs({4}, {1}), 1.0), InputError);
}

TEST_CASE("Factors turn eggs into EPG, whichever side is counted finer") {
  // rho is a ratio of EPG: counted three times as finely after treatment, as many eggs after as
  // before are a fall to a third.
  const RatioLimits alike = *limits(pairs({20, 30}, {4, 6}), 0.90);
  const RatioLimits finer = *limits(pairs({20, 30}, {4, 6}, 15, 5), 0.90);
  CHECK_THAT(finer.lower, support::close_to(alike.lower / 3, support::many_steps));
  CHECK_THAT(finer.upper, support::close_to(alike.upper / 3, support::many_steps));
}

TEST_CASE("Animals of several ratios of factors add up to a sum of binomials") {
  // R 4.2.2: mix <- function(b, n1, s1, n2, s2, level) {
  //   limit <- function(above) exp(uniroot(function(e) { k <- 0:n1
  //     p2 <- plogis(e + s2); log(sum(dbinom(k, n1, plogis(e + s1)) * (pbinom(b - k, n2, p2,
  //     !above)
  //       + pbinom(b - k - 1, n2, p2, !above))) / 2) - log((1 - level) / 2) }, c(-20, 20),
  //     tol = 1e-14)$root)
  //   c(limit(TRUE), limit(FALSE)) }
  // mix(7, 60, log(3), 45, 0, 0.9) and mix(40, 60, log(3), 45, log(0.2), 0.95)
  const RatioLimits few = *limits(mixed(60, 5, 3, 45, 2), 0.90);
  CHECK_THAT(few.lower, support::close_to(0.0168156576076739));
  CHECK_THAT(few.upper, support::close_to(0.0627500669885118));
  const RatioLimits many = *limits(mixed(60, 37, 3, 45, 3, 0.2), 0.95);
  CHECK_THAT(many.lower, support::close_to(0.312899550831759));
  CHECK_THAT(many.upper, support::close_to(0.790392362618357));
}

TEST_CASE("Ratios of factors that are all but equal give the limits of equal ones") {
  // From a handful to as many eggs as can be typed in; a ratio off by 1e-9 moves a limit by less,
  // and a search that takes many steps ends within another 1e-9 at either ratio.
  constexpr double all_but_equal = 3e-9;
  struct Totals {
    std::uint32_t after, both;
  };
  for (const auto& [after, both] :
       {Totals{0, 25}, Totals{1, 2}, Totals{3, 90}, Totals{40, 60}, Totals{2, 1'000'000},
        Totals{999'000, 1'000'000}, Totals{300'000, 1'000'000}}) {
    INFO(after << " of " << both);
    const RatioLimits one = *limits(mixed(both, after, 1, both, after), 0.90);
    const RatioLimits two = *limits(mixed(both, after, 1 + 1e-9, both, after), 0.90);
    CHECK_THAT(two.lower, support::close_to(one.lower, all_but_equal));
    CHECK_THAT(two.upper, support::close_to(one.upper, all_but_equal));
  }
}

TEST_CASE("The luck of counting is a distribution: it rises from 0 to 1") {
  const Group control = support::group("C", {18, 9}, {11, 14});
  for (const Comparison& comparison :
       {pairs({20, 30}, {4, 6}), mixed(60, 5, 3, 45, 2),
        *compare(Design::controlled, support::group("T", {20, 30}, {4, 6}), &control)}) {
    const CountLuck luck(comparison);
    double before = 0;
    for (double eta = -12; eta <= 9; eta += 0.25) {
      const double now = luck.probability_below(eta);
      CHECK(now >= before - 1e-13); // some hundred roundings of a number near 1
      before = now;
    }
    // At a ratio of e^30 an egg lies on the rarer side with a chance of some 1e-13.
    CHECK(luck.probability_below(-30) < 1e-9);
    CHECK(luck.probability_below(30) > 1 - 1e-9);
  }
}

TEST_CASE("Limits of the luck of counting nest by level") {
  for (const Comparison& comparison :
       {pairs({20, 30}, {4, 6}), pairs({9}, {0}), mixed(60, 5, 3, 45, 2)}) {
    RatioLimits inner = *limits(comparison, 0.2);
    for (const double level : {0.5, 0.8, 0.9, 0.95, 0.99, 0.999}) {
      const RatioLimits outer = *limits(comparison, level);
      CHECK(outer.upper > inner.upper);
      CHECK((outer.lower < inner.lower || outer.lower == 0));
      inner = outer;
    }
  }
}

TEST_CASE("After over before is the inverse of before over after") {
  for (const auto& [fall, rise] :
       {std::pair{pairs({20, 30}, {4, 6}, 15, 5), pairs({4, 6}, {20, 30}, 5, 15)},
        std::pair{mixed(60, 5, 3, 45, 2), mixed(60, 55, 1.0 / 3, 45, 43)}}) {
    CHECK_THAT(1 / limits(rise, 0.95)->upper, support::close_to(limits(fall, 0.95)->lower));
    CHECK_THAT(1 / limits(rise, 0.95)->lower, support::close_to(limits(fall, 0.95)->upper));
  }
}

TEST_CASE("A pool's eggs count as those of an animal, however many were mixed") {
  Group group = support::group("T", {20, 30}, {4, 6});
  const RatioLimits animals = *limits(*compare(Design::paired, group, nullptr), 0.90);
  group.animals[0].before->animals = group.animals[0].after->animals = 10;
  group.animals[1].before->animals = group.animals[1].after->animals = 3;
  const RatioLimits pools = *limits(*compare(Design::paired, group, nullptr), 0.90);
  CHECK(pools.lower == animals.lower);
  CHECK(pools.upper == animals.upper);
}

TEST_CASE("Groups sampled once are compared by what was looked at") {
  // Treated: 3 counts at factor 5, exposure 0.6; control: one at 15 and two at 30, exposure 2/15.
  // rho = odds x (2/15)/0.6, so the limits are those of 6 eggs of 40 times that.
  const Group treated = support::group("T", {}, {1, 2, 3}, 1, 5);
  Group control = support::group("C", {}, {14, 12, 8}, 1, 30);
  control.animals[0].after->factor = MultiplicationFactor(15);
  const RatioLimits odds = *limits(pairs({34}, {6}), 0.90);
  const RatioLimits found = *limits(*compare(Design::two_group, treated, &control), 0.90);
  CHECK_THAT(found.lower, support::close_to(odds.lower * (2.0 / 15) / 0.6));
  CHECK_THAT(found.upper, support::close_to(odds.upper * (2.0 / 15) / 0.6));
}

TEST_CASE("In a controlled design both groups' luck counts") {
  // R 4.2.2, e, y and x in log(rho): F <- function(e, b, a) (pbinom(b, a + b, plogis(e), FALSE) +
  //   (if (b > 0) pbinom(b - 1, a + b, plogis(e), FALSE) else 1)) / 2
  // y <- seq(-25, 25, by = 0.0005); m <- (head(y, -1) + tail(y, -1)) / 2
  // sum(F(x - m, b1, a1) * diff(F(y, b2, a2))) = 0.05 and 0.95 by uniroot.
  const auto controlled = [](std::uint32_t before, std::uint32_t after,
                             std::uint32_t control_before, std::uint32_t control_after) {
    const Group control = support::group("C", {control_before}, {control_after});
    return limits(*compare(Design::controlled, support::group("T", {before}, {after}), &control),
                  0.90);
  };
  // Largest difference of the 33-point rule from the fine sum in the cases tried.
  constexpr double rule = 1e-5;
  const RatioLimits many = *controlled(188, 8, 150, 120);
  CHECK_THAT(many.lower, support::close_to(0.0272824873140, rule));
  CHECK_THAT(many.upper, support::close_to(0.0971006256678, rule));
  const RatioLimits few = *controlled(20, 5, 12, 9);
  CHECK_THAT(few.lower, support::close_to(0.1053111838800, rule));
  CHECK_THAT(few.upper, support::close_to(1.0035691880885, rule));
  const RatioLimits none = *controlled(40, 0, 30, 25);
  CHECK(none.lower == 0);
  CHECK_THAT(none.upper, support::close_to(0.0745718755612, rule));
  CHECK_FALSE(controlled(0, 3, 12, 9));
  CHECK_FALSE(controlled(20, 5, 12, 0));
  CHECK(controlled(20, 5, 0, 9)->lower == 0);
}

TEST_CASE("Where neither group had an egg after, luck says as much for a rise as for a fall") {
  // By mid-P each group has half of its probability at an infinity, the treated one at minus, the
  // control at plus: a quarter is of opposite infinities, and is shared out alike whichever group
  // was counted better.
  for (const auto& [treated, control] : {std::pair(40u, 12u), std::pair(12u, 40u)}) {
    const Group untreated = support::group("C", {control}, {0});
    const CountLuck luck(
        *compare(Design::controlled, support::group("T", {treated}, {0}), &untreated));
    CHECK_THAT(luck.least(), support::close_to(0.375));
    CHECK_THAT(luck.most(), support::close_to(0.625));
  }
}

TEST_CASE("Paired counts of different length are no pairs") {
  Comparison lopsided = pairs({20, 30}, {4, 6});
  lopsided.arms[0].below.pop_back();
  CHECK_THROWS_AS(CountLuck(lopsided), CalculationError);
}
