#include "eggfall/statistics/evidence.hpp"

#include "statistics/count_luck.hpp"
#include "support/support.hpp"

#include <algorithm>

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
