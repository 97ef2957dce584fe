#include "statistics/bootstrap.hpp"

#include "support/resampling.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

void check_reduction(const OrReason<RatioLimits>& rho, double lower_percent, double upper_percent,
                     double points) {
  REQUIRE(rho);
  CHECK_THAT(100 * (1 - rho->upper), Catch::Matchers::WithinAbs(lower_percent, points));
  CHECK_THAT(100 * (1 - rho->lower), Catch::Matchers::WithinAbs(upper_percent, points));
}

// boot 1.3-28, data set city (Davison & Hinkley 1997): population of ten cities of the
// United States in 1920 (u) and 1930 (x), thousands.
const RatioData city{
    {{{143, 104, 69, 260, 75, 63, 50, 48, 111, 50}, {138, 93, 61, 179, 48, 37, 29, 23, 30, 2}}}};

RatioData two_groups(std::vector<double> above, std::vector<double> below) {
  return {{{std::move(above), {}}, {{}, std::move(below)}}};
}

/// The largest distance of the falls, in points of percent, at these probabilities.
double farthest(const Bootstrap& bootstrap, const std::vector<double>& sorted) {
  double points = 0;
  for (const double p : {0.025, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.975})
    points = std::max(
        points, 100 * std::abs(std::exp(bootstrap.quantile(p)) - resampling::quantile(sorted, p)));
  return points;
}

constexpr std::uint32_t many = 400'000;

/// Of a probability where resamples come in lumps: four Monte Carlo errors of `many` resamples are
/// 4 sqrt(0.25/400,000) = 0.003, and the rest is left to the saddlepoint formula.
constexpr double where_lumpy = 0.01;

} // namespace

TEST_CASE("Bootstrap limits of Trial A agree with R's boot") {
  // R package boot 1.3-28, 200,000 resamples, tests/published/reference.R: percentile 93.75 to
  // 98.04, BCa 93.59 to 97.89. The limits of R have Monte Carlo errors of about 0.02 points.
  const Bootstrap bootstrap(support::paired(trial_a::before, trial_a::after));
  check_reduction(bootstrap.percentile_limits(0.90), 93.75, 98.04, 0.05);
  check_reduction(bootstrap.bca_limits(0.90), 93.59, 97.89, 0.05);
}

TEST_CASE("Bootstrap limits of two groups agree with R's boot") {
  // As above, with strata and analytic influence values; 100,000 resamples.
  const Bootstrap bootstrap(support::two_group(trial_a::after, trial_a::control));
  check_reduction(bootstrap.percentile_limits(0.90), 92.02, 98.54, 0.05);
  check_reduction(bootstrap.bca_limits(0.90), 91.36, 98.32, 0.05);
}

TEST_CASE("Bootstrap limits of the city data agree with boot within 1%") {
  // boot 1.3-28, 500,000 resamples: percentile 1.286 to 1.968, BCa 1.289 to 1.980
  // (tests/published/reference.R); ratio 1.5203125.
  // The Monte Carlo error of so many resamples is sqrt(0.05 0.95/500,000) = 0.0003 of probability,
  // and about 0.001 of the ratio; the rest is left to the saddlepoint formula, of ten cities.
  constexpr double formula = 0.01;
  const Bootstrap bootstrap(city);
  CHECK_THAT(bootstrap.estimate(), support::close_to(1.5203125));
  const RatioLimits percentile = *bootstrap.percentile_limits(0.90);
  CHECK_THAT(percentile.lower, support::close_to(1.286, formula));
  CHECK_THAT(percentile.upper, support::close_to(1.968, formula));
  const RatioLimits bca = *bootstrap.bca_limits(0.90);
  CHECK_THAT(bca.lower, support::close_to(1.289, formula));
  CHECK_THAT(bca.upper, support::close_to(1.980, formula));
}

TEST_CASE("The law of the resamples is that of 400,000 of them, where it is smooth") {
  // By name: pairs, two groups, pools of unequal weight, mixed factors, a controlled trial.
  // 400,000 resamples have Monte Carlo errors of up to 0.05 points in the widest of these.
  const std::vector<double> k_before{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25, 19, 35, 12};
  const std::vector<double> k_after{2, 0, 3, 1, 7, 1, 2, 0, 6, 1, 3, 4, 2, 9, 1};
  std::vector<double> long_before;
  std::vector<double> long_after;
  for (int i = 0; i < 100; ++i) {
    long_before.push_back((i * 37) % 61 + (i % 7));
    long_after.push_back((i * 29) % 17 % 11);
  }
  const auto name = GENERATE(as<std::string>(), "pairs", "hundred pairs", "groups", "pools",
                             "mixed factors", "controlled");
  RatioData data;
  if (name == "pairs")
    data = {{{k_after, k_before}}};
  if (name == "hundred pairs")
    data = {{{long_after, long_before}}};
  if (name == "groups")
    data = two_groups(k_after, {12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28});
  if (name == "pools") {
    data = two_groups(k_after, {12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28});
    data.samples[0].weights = {3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8, 9, 7, 9};
    data.samples[1].weights = {2, 7, 1, 8, 2, 8, 1, 8, 2, 8, 4, 5};
  }
  if (name == "mixed factors") {
    data = {{{k_after, k_before}}};
    for (std::size_t i = 0; i < k_before.size(); ++i) {
      data.samples[0].above[i] *= i % 2 == 0 ? 15 : 50;
      data.samples[0].below[i] *= i % 3 == 0 ? 50 : 33.3;
    }
  }
  if (name == "controlled")
    data = {{{k_after, k_before},
             {{12, 5, 31, 7, 19, 2, 44, 16, 9, 23}, {14, 7, 30, 9, 17, 4, 40, 13, 11, 20}}}};
  INFO(name);
  const Bootstrap bootstrap(data);
  REQUIRE(bootstrap.why_not().empty());
  CHECK(farthest(bootstrap, resampling::sorted_ratios(data, many, 5)) < 0.1);
}

TEST_CASE("Few animals with eggs after treatment: the law is that of 400,000 resamples") {
  // The plain formula gives 1.79 for the first, and 0.36 for the second, where the truth is 0.352
  // and 0.112 (the chance that none of these animals is drawn).
  const std::vector<double> before{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25};
  const auto positive = GENERATE(1, 2, 3, 4, 5);
  std::vector<double> after(12, 0);
  for (int i = 0; i < positive; ++i)
    after[static_cast<std::size_t>(2 * i + 1)] = 1 + i % 3;
  const RatioData data{{{after, before}}};
  const Bootstrap bootstrap(data);
  CHECK_THAT(bootstrap.least(), support::close_to(std::pow(1 - positive / 12.0, 12)));
  const std::vector<double> sorted = resampling::sorted_ratios(data, many, 6);
  for (const double p : {0.6, 0.75, 0.9, 0.95, 0.975}) {
    const double ratio = resampling::quantile(sorted, p);
    CHECK_THAT(bootstrap.probability_below(std::log(ratio)),
               Catch::Matchers::WithinAbs(resampling::share_below(sorted, ratio), where_lumpy));
  }
  CHECK(farthest(bootstrap, sorted) < 0.35); // lumps: see docs/methods.md
}

TEST_CASE("One animal with most of the eggs makes lumps, which its number of draws tells apart") {
  // The formula without that number is off by 0.04 in the middle of these.
  const RatioData data{{{{60, 1, 0, 2, 0, 1, 0, 1, 0, 0, 1, 0}, // 66 eggs, one animal's
                         {80, 13, 22, 9, 31, 6, 17, 12, 30, 11, 8, 25}}}};
  const Bootstrap bootstrap(data);
  const std::vector<double> sorted = resampling::sorted_ratios(data, many, 7);
  for (const double p : {0.05, 0.25, 0.5, 0.75, 0.95}) {
    const double ratio = resampling::quantile(sorted, p);
    CHECK_THAT(bootstrap.probability_below(std::log(ratio)),
               Catch::Matchers::WithinAbs(resampling::share_below(sorted, ratio), where_lumpy));
  }
}

TEST_CASE("Bootstrap limits hang on the counts alone: not on their order, and not on their unit") {
  const RatioData data = support::paired(trial_a::before, trial_a::after);
  const Bootstrap bootstrap(data);
  CHECK(bootstrap.bca_limits(0.90)->lower == Bootstrap(data).bca_limits(0.90)->lower);
  RatioData turned = data;
  for (std::vector<double>* side : {&turned.samples[0].above, &turned.samples[0].below})
    std::ranges::reverse(*side);
  RatioData in_epg = data;
  for (std::vector<double>* side : {&in_epg.samples[0].above, &in_epg.samples[0].below})
    for (double& value : *side)
      value *= 16.67;
  for (const RatioData& same : {turned, in_epg}) {
    CHECK_THAT(Bootstrap(same).bca_limits(0.9)->lower,
               support::close_to(bootstrap.bca_limits(0.9)->lower, support::many_steps));
    CHECK_THAT(Bootstrap(same).bca_limits(0.9)->upper,
               support::close_to(bootstrap.bca_limits(0.9)->upper, support::many_steps));
  }
  for (const double level : {0.5, 0.8, 0.9, 0.95, 0.99}) {
    CHECK(bootstrap.bca_limits(level + 0.009)->lower <= bootstrap.bca_limits(level)->lower);
    CHECK(bootstrap.percentile_limits(level + 0.009)->upper >=
          bootstrap.percentile_limits(level)->upper);
  }
}

TEST_CASE("A bootstrap without width says why") {
  const auto why = [](const RatioData& data) {
    const Bootstrap bootstrap(data);
    CHECK(bootstrap.bca_limits(0.9).why_not() == bootstrap.percentile_limits(0.9).why_not());
    return bootstrap.why_not();
  };
  CHECK(why(support::paired({5, 9, 2}, {0, 0, 0})) ==
        "no egg was found after treatment, so every resample gives the same 100%");
  CHECK(why(support::paired({0, 0, 0}, {1, 0, 2})) == "one of the means it divides by is zero");
  CHECK(why(support::paired({4, 8, 12}, {1, 2, 3})) ==
        "every resample gives the same reduction, so it has no width");
  CHECK(why(support::paired({9}, {1})) == "it needs at least two animals in each group");
  CHECK(why(support::paired({9, 0}, {1, 0})) ==
        "so many animals have zero counts that many resamples hold no egg at all");
  // A unit that rounds makes no width of none.
  CHECK(why({{{{3 * 16.67, 7 * 16.67, 11 * 16.67}, {30 * 16.67, 70 * 16.67, 110 * 16.67}}}}) ==
        "every resample gives the same reduction, so it has no width");
  CHECK_THROWS_AS(Bootstrap(city).percentile_limits(1), InputError);
  CHECK(Bootstrap(two_groups({1, 2, 1, 3, 1}, {20, 0, 8, 0, 0})).percentile_limits(0.9).why_not() ==
        "so many animals have zero counts that some resamples cannot be divided");
}

TEST_CASE("A weight is worth as many animals alike, and pools alike in EPG show no width") {
  const RatioData alike{{{{7, 7, 7}, {}, {1, 10, 4}}, {{}, {20, 20, 20}, {10, 2, 1}}}};
  CHECK(Bootstrap(alike).why_not() ==
        "every resample gives the same reduction, so it has no width");
  // The same weight for all is none.
  const RatioData plain = two_groups({0, 3, 5, 9}, {12, 30, 21, 44});
  RatioData weighted = plain;
  for (RatioSample& sample : weighted.samples)
    sample.weights = {4, 4, 4, 4};
  CHECK_THAT(Bootstrap(weighted).bca_limits(0.9)->lower,
             support::close_to(Bootstrap(plain).bca_limits(0.9)->lower, support::many_steps));
}

TEST_CASE("The animals' law is BCa at every level, by Student's quantiles") {
  const Bootstrap bootstrap(support::paired(trial_a::before, trial_a::after));
  CHECK_THAT(bootstrap.degrees_of_freedom(), support::close_to(11));
  const AnimalsLaw law(bootstrap, 5);
  // Student's t with 11 degrees of freedom at 95%, R 4.2.2 qt(0.95, 11).
  CHECK_THAT(law.quantile(0.95),
             support::close_to(bootstrap.quantile(bootstrap.corrected(1.795884818704)),
                               support::many_steps));
  for (const double p : {0.01, 0.05, 0.3, 0.5, 0.8, 0.95, 0.999}) {
    CHECK_THAT(law.probability_below(law.quantile(p)),
               Catch::Matchers::WithinAbs(p, support::on_a_grid));
    CHECK(law.quantile(p * 0.9) <= law.quantile(p));
  }
  // Few animals are taken for less than BCa takes them.
  CHECK(std::exp(law.quantile(0.95)) > bootstrap.bca_limits(0.9)->upper);
  CHECK(std::exp(law.quantile(0.05)) < bootstrap.bca_limits(0.9)->lower);
  CHECK(law.probability_below(5) == 1);
  // So much lies where no animal with an egg left is drawn.
  CHECK(law.least() > 0);
  CHECK(law.quantile(law.least() / 2) == -INFINITY);
  CHECK_THROWS_AS(AnimalsLaw(Bootstrap(support::paired({5, 9, 2}, {0, 0, 0})), 5),
                  CalculationError);
}

TEST_CASE("A ratio of one pair of sums knows where none or all of it lies") {
  const LinearRatio pairs(RatioSample{{0, 0, 3}, {4, 0, 5}});
  CHECK_THAT(pairs.undefined(), support::close_to(1.0 / 27));
  CHECK_THAT(pairs.least(), support::close_to((8.0 - 1) / 26));
  CHECK(pairs.most() == 1);
  CHECK(pairs.lowest() == 0);
  CHECK(pairs.highest() == 0.6);
  CHECK(pairs.quantile(0.1) == -INFINITY);
  const LinearRatio groups(RatioSample{{1, 2}, {}}, RatioSample{{}, {0, 4, 8}});
  CHECK_THAT(1 - groups.most(), support::close_to(1.0 / 27));
  CHECK(groups.lowest() == 0.125);
  CHECK(groups.highest() == INFINITY);
  CHECK(groups.quantile(0.99) == INFINITY);
}
