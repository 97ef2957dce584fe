#include "eggfall/statistics/bootstrap.hpp"

#include "eggfall/base/random_stream.hpp"
#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

namespace {

BootstrapSample resampled(const RatioData& data, std::uint64_t seed,
                          std::size_t resamples = 10'000) {
  return bootstrap(data, {resamples, seed, stream_group("trial", "group")});
}

void check_reduction(const RatioLimits& rho, double lower_percent, double upper_percent,
                     double points) {
  REQUIRE(rho.usable());
  CHECK_THAT(100 * (1 - rho.upper), Catch::Matchers::WithinAbs(lower_percent, points));
  CHECK_THAT(100 * (1 - rho.lower), Catch::Matchers::WithinAbs(upper_percent, points));
}

// boot 1.3-28, data set city (Davison & Hinkley 1997): population of ten cities of the
// United States in 1920 (u) and 1930 (x), thousands.
const RatioData city{
    {{{143, 104, 69, 260, 75, 63, 50, 48, 111, 50}, {138, 93, 61, 179, 48, 37, 29, 23, 30, 2}}}};

} // namespace

TEST_CASE("Bootstrap limits of Trial A agree with R's boot") {
  // R package boot 1.3-28, 200,000 resamples, tests/published/reference.R. The
  // allowance, 0.15 points, is about three Monte Carlo standard errors of a 5%
  // quantile from 10,000 resamples.
  const auto seed = GENERATE(1U, 2U, 3U);
  const BootstrapSample sample = resampled(support::paired(trial_a::before, trial_a::after), seed);
  check_reduction(percentile_limits(sample, 0.90), 93.75, 98.04, 0.15);
  check_reduction(bca_limits(sample, 0.90), 93.59, 97.89, 0.15);
}

TEST_CASE("Bootstrap limits of two groups agree with R's boot") {
  // As above, with strata and analytic influence values; 100,000 resamples.
  const BootstrapSample sample =
      resampled(support::two_group(trial_a::after, trial_a::control), 1, 100'000);
  check_reduction(percentile_limits(sample, 0.90), 92.02, 98.54, 0.15);
  check_reduction(bca_limits(sample, 0.90), 91.36, 98.32, 0.15);
}

TEST_CASE("Bootstrap limits of the city data agree with boot within 1%") {
  // boot 1.3-28, 500,000 resamples: percentile 1.286 to 1.968, BCa 1.289 to 1.980
  // (tests/published/reference.R); ratio 1.5203125.
  const BootstrapSample sample = resampled(city, 1, 200'000);
  CHECK_THAT(sample.estimate, support::close_to(1.5203125));
  const RatioLimits percentile = percentile_limits(sample, 0.90);
  CHECK_THAT(percentile.lower, support::close_to(1.286, 0.01));
  CHECK_THAT(percentile.upper, support::close_to(1.968, 0.01));
  const RatioLimits bca = bca_limits(sample, 0.90);
  CHECK_THAT(bca.lower, support::close_to(1.289, 0.01));
  CHECK_THAT(bca.upper, support::close_to(1.980, 0.01));
}

TEST_CASE("A seed, group and replicate always give the same resamples") {
  const RatioData data = support::paired(trial_a::before, trial_a::after);
  CHECK(resampled(data, 7).ratios == resampled(data, 7).ratios);
  CHECK(resampled(data, 7).ratios != resampled(data, 8).ratios);
  CHECK(bootstrap(data, {100, 7, stream_group("a", "bc")}).ratios !=
        bootstrap(data, {100, 7, stream_group("ab", "c")}).ratios);
  SECTION("fewer resamples are a subset of more") {
    const auto few = resampled(data, 7, 200).ratios;
    const auto more = resampled(data, 7, 1'000).ratios;
    CHECK(std::ranges::includes(more, few));
  }
}

TEST_CASE("Bootstrap limits nest by level and scale with the counts") {
  const RatioData data = support::paired(trial_a::before, trial_a::after);
  const BootstrapSample sample = resampled(data, 4);
  for (const auto limits : {percentile_limits, bca_limits}) {
    CHECK(limits(sample, 0.95).lower <= limits(sample, 0.90).lower);
    CHECK(limits(sample, 0.95).upper >= limits(sample, 0.90).upper);
  }
  RatioData scaled = data;
  for (double& value : scaled.samples[0].above)
    value *= 4; // a power of two: exact
  CHECK(percentile_limits(resampled(scaled, 4), 0.9).upper ==
        4 * percentile_limits(sample, 0.9).upper);
}

TEST_CASE("A bootstrap without width says why") {
  const auto why = [](const RatioData& data) {
    const BootstrapSample sample = resampled(data, 1, 1'000);
    CHECK(bca_limits(sample, 0.9).why_not == percentile_limits(sample, 0.9).why_not);
    return percentile_limits(sample, 0.9).why_not;
  };
  CHECK(why(support::paired({5, 9, 2}, {0, 0, 0})) ==
        "no egg was found after treatment, so every resample gives the same 100%");
  CHECK(why(support::paired({0, 0, 0}, {1, 0, 2})) == "one of the means it divides by is zero");
  CHECK(why(support::paired({4, 8, 12}, {1, 2, 3})) ==
        "every resample gives the same reduction, so it has no width");
  CHECK(why(support::paired({9}, {1})) == "it needs at least two animals in each group");
  CHECK(why(support::paired({9, 0}, {1, 0})) ==
        "so many animals have zero counts that many resamples hold no egg at all");
  CHECK_THROWS_AS(bootstrap(city, {10, 1, 0}), InputError);
  CHECK_THROWS_AS(percentile_limits(resampled(city, 1, 100), 1), InputError);
  CHECK(support::input_error([] { percentile_limits(resampled(city, 1, 100), 0.99); }) ==
        "100 resamples are too few for a level of 0.99; ask for more");
}

TEST_CASE("Bootstrap limits do not depend on the unit of the counts") {
  // Ties with the estimate are many here (6 of the 27 possible resamples); a unit that
  // rounds must not turn them into values above or below it.
  const auto limits = [](double factor, std::vector<double> after, std::vector<double> before) {
    for (double& value : after)
      value *= factor;
    for (double& value : before)
      value *= factor;
    return bca_limits(resampled({{{after, before}}}, 1), 0.9);
  };
  const RatioLimits plain = limits(1, {3, 2, 1}, {7, 11, 13});
  for (const double factor : {16.67, 0.1, 33.3}) {
    CHECK_THAT(limits(factor, {3, 2, 1}, {7, 11, 13}).lower, support::close_to(plain.lower, 1e-9));
    CHECK_THAT(limits(factor, {3, 2, 1}, {7, 11, 13}).upper, support::close_to(plain.upper, 1e-9));
    CHECK_FALSE(limits(factor, {3, 7, 11, 13, 1}, {30, 70, 110, 130, 10}).usable());
  }
}

TEST_CASE("A weight is worth as many animals alike, and pools alike in EPG show no width") {
  const BootstrapSettings settings{1'000, 3, 7};
  const RatioData alike{{{{7, 7, 7}, {}, {1, 10, 4}}, {{}, {20, 20, 20}, {10, 2, 1}}}};
  CHECK(percentile_limits(bootstrap(alike, settings), 0.9).why_not ==
        "every resample gives the same reduction, so it has no width");
  // The same weight for all is none.
  const RatioData plain{{{{0, 3, 5, 9}, {}}, {{}, {12, 30, 21, 44}}}};
  RatioData weighted = plain;
  for (RatioSample& sample : weighted.samples)
    sample.weights = {4, 4, 4, 4};
  CHECK(bootstrap(plain, settings).ratios == bootstrap(weighted, settings).ratios);
  CHECK(bca_limits(bootstrap(plain, settings), 0.9).lower ==
        bca_limits(bootstrap(weighted, settings), 0.9).lower);
}

TEST_CASE("Where all resamples lie on one side of the estimate there are no corrected limits") {
  BootstrapSample sample = resampled({{{{0, 3, 5, 9}, {}}, {{}, {12, 30, 21, 44}}}}, 1);
  // Without the resamples that have no egg at all.
  sample.ratios.erase(sample.ratios.begin(),
                      std::ranges::upper_bound(sample.ratios, sample.ratios.front()));
  sample.estimate = sample.ratios.front() / 2;
  CHECK(bca_limits(sample, 0.9).why_not == "all resamples lie on one side of the estimate");
  sample.estimate = sample.ratios.back() * 2;
  CHECK(bca_limits(sample, 0.9).why_not == "all resamples lie on one side of the estimate");
}
