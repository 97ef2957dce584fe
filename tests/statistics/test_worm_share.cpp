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
  CHECK_THAT(below(mixed, -3), WithinAbs(0.238557852, 1e-6));
  CHECK_THAT(below(mixed, -2.2), WithinAbs(0.791366629, 1e-6));

  const LogRatioDensity none_after =
      of_worm(densities::normal(-4, 0.5), {WormShare{0, 60}}, {WormShare{90, 100}});
  CHECK_THAT(below(none_after, -9), WithinAbs(0.610139585, 1e-6));
  CHECK_THAT(below(none_after, -6), WithinAbs(0.998011963, 1e-6));

  const LogRatioDensity only_one =
      of_worm(densities::normal(-2, 0.2), {WormShare{50, 50}}, {WormShare{50, 50}});
  CHECK_THAT(below(only_one, -2), WithinAbs(0.5, 1e-6));
  CHECK_THAT(below(only_one, -1.7), WithinAbs(0.932236611, 1e-6));
}

TEST_CASE("With larvae without number a worm's posterior is that of all, moved") {
  const LogRatioDensity all = densities::normal(-2.5, 0.4);
  constexpr std::uint64_t many = 2'000'000'000;
  const LogRatioDensity worm =
      of_worm(all, {WormShare{many * 6 / 10, many}}, {WormShare{many * 2 / 10, many}});
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(worm.quantile(p).value, WithinAbs(all.quantile(p).value + std::log(3.0), 1e-4));

  // One worm alone: the share is 1 but for the prior's 1 / (4 larvae) or so.
  const LogRatioDensity alone = of_worm(all, {WormShare{many, many}}, {WormShare{many, many}});
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(alone.quantile(p).value, WithinAbs(all.quantile(p).value, 1e-6));
}

TEST_CASE("A worm's posterior says how precise it is, narrow or wide") {
  for (const double sd : {0.01, 0.1, 1.0})
    for (const WormShare after : {WormShare{0, 0}, WormShare{0, 100}, WormShare{3, 100},
                                  WormShare{100, 100}, WormShare{20'000, 50'000}}) {
      const RatioLimits limits =
          of_worm(densities::normal(-3, sd), {after}, {WormShare{1, 80}}).limits(0.9);
      CAPTURE(sd, after.larvae, after.total, limits.lower, limits.upper);
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
    CHECK_THAT(at_once.quantile(p).value, WithinAbs(in_turn.quantile(p).value, 1e-6));
  CHECK_THROWS_AS(of_worm(all, {WormShare{3, 2}}, {WormShare{1, 2}}), CalculationError);
}
