#include "teach/chamber/chamber_practical.hpp"

#include "support/support.hpp"

#include <cmath>
#include <cstdint>

using namespace eggfall;

TEST_CASE("The lesson has two samples of two chambers, and one egg is 50 EPG", "[chamber]") {
  const ChamberPractical practical = chamber_practical(11);
  REQUIRE(practical.samples.size() == 2);
  for (const PracticalSample& sample : practical.samples)
    CHECK(sample.chambers.size() == 2);
  // 16 mL / (4 g x 2 x 0.04 mL)
  CHECK_THAT(multiplication_factor(practical).value(), Catch::WithinRel(50, support::other_order));
  const KindCount count =
      kind_count(practical, practical.samples.front(), ParticleKind::strongyle_type);
  CHECK(count.truth.value() == 400);
  CHECK_THAT(count.expected, Catch::WithinRel(8, support::other_order));
  CHECK_THAT(count.luck, Catch::WithinRel(std::sqrt(8), support::other_order));
  CHECK(count.epg == count.eggs * multiplication_factor(practical));
  // A Poisson count of mean 1 is none with chance 1/e.
  CHECK_THAT(chance_of_none(practical, Epg(50)),
             Catch::WithinRel(std::exp(-1), support::other_order));
}

TEST_CASE("Over many seeds a lesson's counts have the mean of the truth", "[chamber]") {
  constexpr int practicals = 300;
  double eggs = 0;
  for (std::uint64_t seed = 0; seed < practicals; ++seed) {
    const ChamberPractical practical = chamber_practical(seed);
    eggs +=
        kind_count(practical, practical.samples.front(), ParticleKind::strongyle_type).eggs.value();
  }
  CHECK_THAT(eggs / practicals, Catch::WithinAbs(8, 4 * std::sqrt(8.0 / practicals)));
}

TEST_CASE("A kind that a sample has none of is never seen in it", "[chamber]") {
  const ChamberPractical practical = chamber_practical(11);
  REQUIRE(practical.samples.back().sample.name == "B");
  const KindCount none =
      kind_count(practical, practical.samples.back(), ParticleKind::strongyloides_like);
  CHECK(none.truth.value() == 0);
  CHECK(none.eggs == EggsSeen(0));
  CHECK(none.epg.value() == 0);
  CHECK(none.expected == 0);
  CHECK(none.luck == 0);
  CHECK(chance_of_none(practical, Epg(0)) == 1);
  // 200 EPG in A: 4 eggs expected at a factor of 50.
  CHECK_THAT(chance_of_none(practical, Epg(200)),
             Catch::WithinRel(std::exp(-4), support::other_order));
}
