#include "eggfall/statistics/worm_share.hpp"

#include "support/densities.hpp"
#include "support/support.hpp"

#include <cmath>

using namespace eggfall;
using Catch::Matchers::WithinAbs;

namespace {

double below(const LogRatioDensity& density, double eta) {
  return density.probability_below(std::exp(eta)).value;
}

} // namespace

TEST_CASE("A worm's posterior is that of all worms times the ratio of its shares") {
  // By nested integrate() in R 4.2.2, printed by tests/published/reference.R; a normal density of
  // eta is cut at 6 standard deviations here.
  const LogRatioDensity mixed =
      of_worm(densities::normal(-3, 0.3), {WormShare{7, 40}}, {WormShare{12, 100}});
  CHECK_THAT(below(mixed, -3), WithinAbs(0.238557852, support::on_a_grid));
  CHECK_THAT(below(mixed, -2.2), WithinAbs(0.791366629, support::on_a_grid));

  const LogRatioDensity none_after =
      of_worm(densities::normal(-4, 0.5), {WormShare{0, 60}}, {WormShare{90, 100}});
  CHECK_THAT(below(none_after, -9), WithinAbs(0.610139585, support::on_a_grid));
  CHECK_THAT(below(none_after, -6), WithinAbs(0.998011963, support::on_a_grid));

  const LogRatioDensity only_one =
      of_worm(densities::normal(-2, 0.2), {WormShare{50, 50}}, {WormShare{50, 50}});
  CHECK_THAT(below(only_one, -2), WithinAbs(0.5, support::on_a_grid));
  CHECK_THAT(below(only_one, -1.7), WithinAbs(0.932236611, support::on_a_grid));
}

TEST_CASE("With larvae without number a worm's posterior is that of all, moved") {
  const LogRatioDensity all = densities::normal(-2.5, 0.4);
  constexpr double many = 2'000'000'000;
  const LogRatioDensity worm =
      of_worm(all, {WormShare{many * 0.6, many}}, {WormShare{many * 0.2, many}});
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(worm.quantile(p).value,
               WithinAbs(all.quantile(p).value + std::log(3.0), support::between_grid_points));

  // One worm alone: the share is 1 but for the prior's 1 / (4 larvae) or so.
  const LogRatioDensity alone = of_worm(all, {WormShare{many, many}}, {WormShare{many, many}});
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(alone.quantile(p).value, WithinAbs(all.quantile(p).value, support::on_a_grid));
}

TEST_CASE("A worm's posterior says how precise it is, narrow or wide") {
  for (const double sd : {0.01, 0.1, 1.0})
    for (const WormShare after : {WormShare{0, 0}, WormShare{0, 100}, WormShare{3, 100},
                                  WormShare{100, 100}, WormShare{20'000, 50'000}}) {
      const RatioLimits limits =
          of_worm(densities::normal(-3, sd), {after}, {WormShare{1, 80}}).limits(0.9);
      CAPTURE(sd, after.larvae, after.total, limits.lower, limits.upper);
      // A thousandth of the width is no doubt beside the width itself.
      CHECK(*limits.error < 1e-3 * (limits.upper - limits.lower));
    }
}

TEST_CASE("Cultures of four groups count one after the other") {
  const LogRatioDensity all = densities::normal(-2, 0.3);
  const std::vector<WormShare> above{{30, 90}, {12, 50}};
  const std::vector<WormShare> below{{20, 100}, {9, 60}};
  const LogRatioDensity at_once = of_worm(all, above, below);
  const LogRatioDensity in_turn =
      of_worm(of_worm(all, {above[1]}, {below[1]}), {above[0]}, {below[0]});
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(at_once.quantile(p).value, WithinAbs(in_turn.quantile(p).value, support::on_a_grid));
  CHECK_THROWS_AS(of_worm(all, {WormShare{3, 2}}, {WormShare{1, 2}}), CalculationError);
}

TEST_CASE("A share told in percent has the likelihood of all numbers that this leaves open") {
  // Mixtures of Beta posteriors on a grid of logits in R 4.2.2, printed by
  // tests/published/reference.R.
  const auto share = [](double larvae, double total, double least, double most, bool told) {
    return WormShare{larvae, total, OpenShare{{least, most}, told}};
  };
  const LogRatioDensity numbered = of_worm(
      densities::normal(-3, 0.3), {share(66, 200, 65, 67, true)}, {share(20, 100, 18, 22, true)});
  CHECK_THAT(below(numbered, -3), WithinAbs(0.0905813200707, support::on_a_grid));
  CHECK_THAT(below(numbered, -2.2), WithinAbs(0.7796860701320, support::on_a_grid));

  const LogRatioDensity unnumbered =
      of_worm(densities::normal(-3, 0.3), {share(1, 50, 0.75, 1.25, false)},
              {share(20, 50, 18.75, 21.25, false)});
  CHECK_THAT(below(unnumbered, -6), WithinAbs(0.439453811778, support::on_a_grid));
  // In steps a tenth as long; the two sums differ by 1.8e-4.
  CHECK_THAT(below(unnumbered, -6), WithinAbs(0.439635152184, 3e-4));

  // One number alone is a count.
  const LogRatioDensity all = densities::normal(-3, 0.3);
  CHECK_THAT(of_worm(all, {share(7, 40, 7, 7, true)}, {}).quantile(0.1).value,
             WithinAbs(of_worm(all, {{7, 40}}, {}).quantile(0.1).value, support::other_order));
  CHECK_THROWS_AS(of_worm(all, {share(3, 10, 3, 11, true)}, {}), CalculationError);
  CHECK_THROWS_AS(of_worm(all, {share(3, 10, 4, 3, true)}, {}), CalculationError);
}

TEST_CASE("The more a percentage leaves open, the wider the answer") {
  const LogRatioDensity all = densities::normal(-3, 0.3);
  const auto width = [&](const WormShare& after) {
    const RatioLimits limits = of_worm(all, {after}, {{40, 100}}).limits(0.9);
    return std::log(limits.upper / limits.lower);
  };
  double last = width({200, 1000});
  for (const double open : {5.0, 25.0, 50.0, 100.0}) {
    const double now = width({200, 1000, OpenShare{{200 - open, 200 + open}, true}});
    CHECK(now > last);
    last = now;
  }
}
