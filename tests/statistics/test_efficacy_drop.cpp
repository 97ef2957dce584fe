#include "eggfall/statistics/efficacy_drop.hpp"

#include "eggfall/statistics/evidence.hpp"
#include "support/support.hpp"

#include <vector>

using namespace eggfall;

namespace {

/// Ten animals of so many eggs each before, and these after.
GuardedLaw law_of(std::uint32_t before, const std::vector<std::uint32_t>& after) {
  Comparison comparison;
  Arm arm;
  for (const std::uint32_t eggs : after) {
    arm.below.push_back({EggsSeen(before), MultiplicationFactor(15)});
    arm.above.push_back({EggsSeen(eggs), MultiplicationFactor(15)});
  }
  comparison.arms = {arm};
  return *Evidence(comparison, {}).guarded();
}

const std::vector<std::uint32_t> few{0, 1, 0, 0, 2, 0, 1, 0, 0, 1};
const std::vector<std::uint32_t> many{4, 6, 3, 5, 7, 4, 6, 5, 3, 6};
const std::vector<std::uint32_t> none{0, 0, 0, 0, 0, 0, 0, 0, 0, 0};

} // namespace

TEST_CASE("A drop is likely where many more eggs are left, and unlikely the other way round") {
  const EfficacyDrop drop = drop_between(law_of(30, few), law_of(30, many));
  CHECK(drop.any > 0.99);
  CHECK(drop.marked > 0.95);
  const EfficacyDrop back = drop_between(law_of(30, many), law_of(30, few));
  CHECK(back.any < 0.01);
  CHECK(back.marked <= back.any);
}

TEST_CASE("Two tests alike say nothing either way") {
  const EfficacyDrop drop = drop_between(law_of(30, few), law_of(30, few));
  CHECK(drop.any == Approx(0.5).margin(0.001)); // by symmetry, but for the grid
  CHECK(drop.marked < drop.any);
}

TEST_CASE("The chance of any drop is that of the ratio of the two, by the guarded difference") {
  for (const auto& [first, second] :
       {std::pair{few, many}, std::pair{many, few}, std::pair{few, few}}) {
    const GuardedLaw earlier = law_of(30, first);
    const GuardedLaw later = law_of(30, second);
    // Two ways to the same integral: a convolution, and a sum over one of the laws. Both are within
    // a thousandth of it by their own coarser grids.
    CHECK(drop_between(earlier, later).any ==
          Approx(1 - difference(later, earlier).probability_below(1)).margin(0.002));
  }
}

TEST_CASE("Tests without an egg left cannot be said to differ") {
  const EfficacyDrop drop = drop_between(law_of(30, none), law_of(30, none));
  // By symmetry, but for the lump at half an egg, which is spread over some points of the grid.
  CHECK(drop.any == Approx(0.5).margin(0.02));
  CHECK(drop.marked < 0.05);
}

TEST_CASE("A test of few eggs cannot show a drop that many eggs show") {
  const EfficacyDrop clear = drop_between(law_of(30, few), law_of(30, many));
  const EfficacyDrop thin = drop_between(law_of(3, {0, 0, 0, 0, 0, 0, 0, 0, 0, 1}),
                                         law_of(3, {0, 1, 0, 0, 1, 0, 0, 1, 0, 0}));
  CHECK(thin.any < clear.any);
  CHECK(thin.any < 0.95);
}
