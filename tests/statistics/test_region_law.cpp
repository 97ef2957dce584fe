#include "statistics/region_law.hpp"

#include "support/tolerances.hpp"

#include "eggfall/base/error.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

using namespace eggfall;

namespace {

// Of a normal likelihood (skew 4) by its mode and about its standard deviation.
HeardLikelihood normal(double efficacy, double deviation) {
  const auto width =
      static_cast<std::int32_t>(std::lround(std::log(deviation / 0.02) / std::log(1.15)));
  const double u = 0.02 * std::pow(1.15, width);
  return {width, static_cast<std::int32_t>(std::lround((std::log(1 - efficacy) + u) / (u / 4))), 4};
}

/// No egg after treatment, and some hundred and fifty before it.
constexpr HeardLikelihood no_egg{30, -16, 17};

RegionTally tally_of(const std::vector<HeardLikelihood>& groups) {
  RegionTally tally;
  for (const HeardLikelihood& group : groups)
    tally.add(group, 1);
  return tally;
}

std::vector<HeardLikelihood> mixed_region() {
  std::vector<HeardLikelihood> groups;
  for (int i = 0; i < 9; ++i) {
    groups.push_back(normal(0.985 + 0.001 * i, 0.35));
    groups.push_back(no_egg);
  }
  for (int i = 0; i < 6; ++i)
    groups.push_back(normal(0.6 + 0.03 * i, 0.3));
  return groups;
}

/// Every bit of what is read from a law.
std::vector<std::uint64_t> bits(const RegionLaw& law) {
  std::vector<std::uint64_t> result;
  const auto add = [&](double value) { result.push_back(std::bit_cast<std::uint64_t>(value)); };
  for (const MedianAndLimits& limits :
       {law.median_efficacy(0.9), law.mean_efficacy(0.9), law.spread(0.9), law.new_farm(0.9),
        law.of_group(TrialLikelihood(no_egg), 0.95)}) {
    add(limits.lower);
    add(limits.median);
    add(limits.upper);
  }
  const GroupsBelow below = law.groups_below(0.9, 0.95);
  add(below.mean);
  result.push_back(below.lower);
  result.push_back(below.upper);
  add(law.new_farm_below(0.95));
  return result;
}

} // namespace

TEST_CASE("Shards of a region add up to the same tally, and the same law to the last bit") {
  std::vector<HeardLikelihood> groups = mixed_region();
  const RegionTally whole = tally_of(groups);
  std::ranges::reverse(groups);
  std::rotate(groups.begin(), groups.begin() + 7, groups.end());
  CHECK(tally_of(groups) == whole);
  RegionTally even;
  RegionTally odd;
  for (std::size_t g = 0; g < groups.size(); ++g)
    (g % 2 == 0 ? even : odd).add(groups[g], 1);
  RegionTally one = even;
  one.add(odd);
  RegionTally other = odd;
  other.add(even);
  CHECK(one == whole);
  CHECK(other == whole);
  CHECK(whole.groups() == groups.size());
  CHECK(bits(RegionLaw(one)) == bits(RegionLaw(whole)));
  CHECK(bits(RegionLaw(other)) == bits(RegionLaw(whole)));
}

TEST_CASE("A large trial is not moved by the others, and a small one borrows from them") {
  std::vector<HeardLikelihood> groups(20, normal(0.98, 0.15));
  const HeardLikelihood large = normal(0.70, 0.05);
  const HeardLikelihood small = normal(0.70, 0.9);
  groups.push_back(large);
  const RegionLaw with_large(tally_of(groups));
  const MedianAndLimits of_large = with_large.of_group(TrialLikelihood(large), 0.9);
  const TrialLikelihood alone(large);
  // Its own limits are those of its likelihood: the mode and 1.645 standard deviations. One of
  // these is 0.05 x 0.3 = 0.015 of efficacy, of which a third at most is left to the others' pull.
  CHECK_THAT(of_large.median, Catch::Matchers::WithinAbs(-std::expm1(alone.mode()), 0.004));
  CHECK_THAT(of_large.lower,
             Catch::Matchers::WithinAbs(-std::expm1(alone.mode() + 1.645 * alone.scale()), 0.005));
  groups.back() = small;
  const RegionLaw with_small(tally_of(groups));
  const MedianAndLimits of_small = with_small.of_group(TrialLikelihood(small), 0.9);
  CHECK(of_small.median > 0.8);
  CHECK(of_small.upper < 0.995);
  CHECK(of_small.lower > -std::expm1(std::log(0.3) + 1.645 * 0.9));
}

TEST_CASE("Whether farms that fail are counted where there are two kinds") {
  const RegionLaw law(tally_of(mixed_region()));
  // 6 groups between 60 and 75%, each a factor of e^1 or more from the bar; 18 at 98.5% or above:
  // the doubts about all 24 move the mean by a fifth of a group at most.
  const GroupsBelow below = law.groups_below(0.90, 0.9);
  CHECK_THAT(below.mean, Catch::Matchers::WithinAbs(6, 0.2));
  CHECK(below.lower <= 6);
  CHECK(below.upper >= 6);
  CHECK(below.upper <= 7);
  CHECK(law.groups_below(0.90, 0.95).upper >= below.upper);
  CHECK(law.groups_below(0.95, 0.9).mean >= below.mean);
  CHECK(law.groups_below(-19, 0.9).mean < 1e-3); // 20 times the eggs: none comes near
  CHECK_THAT(law.groups_below(1, 0.9).mean, Catch::Matchers::WithinAbs(24, support::many_steps));
  CHECK(law.new_farm_below(0.90) > 0.12);
  CHECK(law.new_farm_below(0.90) < 0.45);
}

TEST_CASE("The number below a threshold by exact sums and by the normal law agree") {
  // 300 groups are summed, 304 taken as normal: the same region but for rounding. The means may
  // differ by one group of 300, 0.003; both limits are whole numbers, 0.006 being almost two
  // groups.
  const auto region = [](std::uint64_t times) {
    RegionTally tally;
    for (int i = 0; i < 4; ++i)
      tally.add(normal(0.84 + 0.03 * i, 0.5), times);
    return RegionLaw(tally);
  };
  const GroupsBelow exact = region(75).groups_below(0.9, 0.9);
  const GroupsBelow normal_law = region(76).groups_below(0.9, 0.9);
  CHECK_THAT(normal_law.mean / 304, Catch::Matchers::WithinAbs(exact.mean / 300, 0.003));
  CHECK_THAT(static_cast<double>(normal_law.lower) / 304,
             Catch::Matchers::WithinAbs(static_cast<double>(exact.lower) / 300, 0.006));
  CHECK_THAT(static_cast<double>(normal_law.upper) / 304,
             Catch::Matchers::WithinAbs(static_cast<double>(exact.upper) / 300, 0.006));
}

TEST_CASE("Strata of one group and of two have an answer, and a wide one") {
  for (const std::vector<HeardLikelihood>& groups :
       {std::vector{no_egg}, std::vector{normal(0.85, 0.3)}, std::vector{no_egg, normal(0.5, 0.2)},
        std::vector{HeardLikelihood{40, 0, 4}}, std::vector{HeardLikelihood{0, -1600, 4}}}) {
    const RegionLaw law(tally_of(groups));
    const MedianAndLimits median = law.median_efficacy(0.9);
    CHECK(median.lower < median.median);
    CHECK(median.median < median.upper);
    CHECK(std::log((1 - median.lower) / (1 - median.upper)) > 1.5);
    CHECK(law.spread(0.9).upper > 1.5);
    const GroupsBelow below = law.groups_below(0.95, 0.9);
    CHECK(below.upper <= groups.size());
    CHECK(below.lower <= below.upper);
  }
  const RegionLaw open(tally_of({normal(0.95, 0.3)}));
  CHECK(open.groups_below(0.95, 0.9).lower == 0);
  CHECK(open.groups_below(0.95, 0.9).upper == 1);
}

TEST_CASE("Groups that all have no egg after treatment are high, and no higher than the floor") {
  const RegionLaw law(tally_of(std::vector<HeardLikelihood>(30, no_egg)));
  CHECK(law.median_efficacy(0.9).lower > 0.98);
  CHECK(law.of_group(TrialLikelihood(no_egg), 0.9).upper <= 0.9999);
  CHECK(law.new_farm(0.9).upper <= 0.9999);
  CHECK(law.groups_below(0.90, 0.95).upper <= 2);
}

TEST_CASE("Counts that rose are no error, however far") {
  std::vector<HeardLikelihood> groups(5, normal(-1.5, 0.3));
  groups.push_back(normal(-60, 0.1)); // beyond the grid
  const RegionLaw law(tally_of(groups));
  CHECK(law.median_efficacy(0.9).median < -0.5);
  CHECK(law.groups_below(0.90, 0.95).lower == 6);
  const MedianAndLimits beyond = law.of_group(TrialLikelihood(groups.back()), 0.9);
  CHECK(beyond.median < -15);
  CHECK(beyond.lower >= -19.1); // held at 20 times
}

TEST_CASE("An empty region has no law, and a tally takes no impossible curve") {
  CHECK_THROWS_AS(RegionLaw(RegionTally()), CalculationError);
  RegionTally tally;
  CHECK_THROWS_AS(tally.add(HeardLikelihood{0, 0, 18}, 1), InputError);
  CHECK_THROWS_AS(tally.add(no_egg, 0), InputError);
  CHECK(tally.groups() == 0);
  tally.add(no_egg, 3);
  CHECK(tally.groups() == 3);
  CHECK_THROWS_AS(RegionLaw(tally).groups_below(0.9, 1), InputError);
}
