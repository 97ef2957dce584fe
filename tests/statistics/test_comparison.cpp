#include "eggfall/statistics/comparison.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "statistics/egg_totals.hpp"
#include "support/support.hpp"
using namespace eggfall;

namespace {

double reduction(Design design, const Group& treated, const Group* control) {
  return 1 - ratio(epg(*compare(design, treated, control)));
}

} // namespace

TEST_CASE("The four designs give their formulas") {
  // Trial A: 1 - 8/188 and 1 - 8/199, by hand; McKenna 2006 for the formulas.
  const Group treated = support::group("T", trial_a::before, trial_a::after);
  const Group after_only = support::group("C", {}, trial_a::control);
  CHECK_THAT(reduction(Design::paired, treated, nullptr), support::close_to(0.9574468085106383));
  CHECK_THAT(reduction(Design::two_group, treated, &after_only),
             support::close_to(0.959798994974874));
  const Group control = support::group("C", {10, 30}, {20, 40});
  // 1 - (8/188)(40/60) and 1 - (8/12)/(40/2)
  CHECK_THAT(reduction(Design::controlled, treated, &control),
             support::close_to(1 - 8.0 / 188 * 40 / 60));
  CHECK_THAT(reduction(Design::baseline, treated, &control),
             support::close_to(1 - (8.0 / 12) / (40.0 / 2)));
}

TEST_CASE("Different factors before and after enter the reduction") {
  const Group coarse = support::group("T", trial_a::before, trial_a::after, 15, 15);
  const Group finer = support::group("T", trial_a::before, trial_a::after, 15, 5);
  CHECK_THAT(reduction(Design::paired, coarse, nullptr), support::close_to(1 - 8.0 / 188));
  CHECK_THAT(reduction(Design::paired, finer, nullptr), support::close_to(1 - 8.0 / 188 / 3));
}

TEST_CASE("An animal sampled once is dropped from a pair and kept where it counts") {
  Group treated = support::group("T", {20, 30, 10}, {2, 0, 1});
  treated.animals[0].before.reset();
  treated.animals[1].after.reset();
  treated.animals[2].tag = "full";
  const auto paired = compare(Design::paired, treated, nullptr);
  REQUIRE(paired->dropped.size() == 2);
  CHECK(paired->dropped[0].animal == "1");
  CHECK(paired->dropped[0].reason == "not sampled before treatment");
  CHECK(paired->dropped[1].reason == "not sampled after treatment");
  CHECK(paired->arms[0].above.size() == 1);
  const Group control = support::group("C", {}, {9, 4});
  const auto two = compare(Design::two_group, treated, &control);
  CHECK(two->arms[0].above.size() == 2);
  CHECK(two->dropped.size() == 1);
}

TEST_CASE("A control animal that is dropped is told with the sample it lacks") {
  const Group treated = support::group("T", {20, 30}, {2, 0});
  Group control = support::group("C", {9, 4, 7, 6}, {9, 4, 7, 6});
  control.animals[0].before.reset();
  control.animals[1].after.reset();
  const auto why = [&](Design design) {
    std::vector<std::string> reasons;
    const Comparison comparison = compare(design, treated, &control).value();
    for (const DroppedAnimal& animal : comparison.dropped) {
      CHECK(animal.role == Role::control);
      reasons.push_back(animal.animal + " " + animal.reason);
    }
    return reasons;
  };
  const std::string no_before = "1 control, not sampled before treatment";
  const std::string no_after = "2 control, not sampled after treatment";
  CHECK(why(Design::controlled) == std::vector{no_before, no_after});
  CHECK(why(Design::two_group) == std::vector{no_after});
  CHECK(why(Design::baseline) == std::vector{no_before});
}

TEST_CASE("Eggs add up, and so do the volumes in which they were sought") {
  const std::vector<Count> counts{{EggsSeen(3), MultiplicationFactor(50), 2},
                                  {EggsSeen(4), MultiplicationFactor(20), 1}};
  CHECK(totals_of(counts).eggs == 7);
  CHECK(totals_of(counts).animals_mixed == 3);
  CHECK(totals_of({}).eggs == 0);
  CHECK_THAT(exposure_of(counts), support::close_to(1.0 / 50 + 1.0 / 20));
  CHECK(exposure_of({}) == 0);
}

TEST_CASE("Animals stand in the order of their counts on either side of the bar") {
  const std::vector<Count> three = support::counts({40, 22, 31}, 15);
  const Comparison ordered =
      in_order_of_counts({Design::two_group, {{three, {}}, {{}, three}}, {}});
  const auto eggs = [](const std::vector<Count>& counts) {
    std::vector<std::uint32_t> seen;
    for (const Count& count : counts)
      seen.push_back(count.eggs.value());
    return seen;
  };
  const std::vector<std::uint32_t> in_order{22, 31, 40};
  CHECK(eggs(ordered.arms.front().above) == in_order);
  CHECK(eggs(ordered.arms.back().below) == in_order);
}

TEST_CASE("The preferred design needs two animals an arm, and pairs come first") {
  const Group treated = support::group("T", {20, 30}, {2, 0});
  const Group after_only = support::group("T", {}, {2, 0});
  const Group control = support::group("C", {9, 9}, {12, 14});
  const Group control_before = support::group("C", {9, 9}, {});
  CHECK(preferred_design(treated, &control) == Design::paired);
  CHECK(preferred_design(after_only, &control) == Design::two_group);
  CHECK(preferred_design(after_only, &control_before) == Design::baseline);
  CHECK_FALSE(preferred_design(after_only, nullptr));
  SECTION("unless they would throw away most of the treated animals") {
    Group mostly_after = support::group("T", {}, std::vector<std::uint32_t>(20, 1));
    mostly_after.animals[0].before = treated.animals[0].before;
    mostly_after.animals[1].before = treated.animals[1].before;
    CHECK(preferred_design(mostly_after, &control) == Design::two_group);
    // Five of twelve are fewer than half, and six are not.
    Group five =
        support::group("T", std::vector<std::uint32_t>(12, 9), std::vector<std::uint32_t>(12, 1));
    for (std::size_t i = 5; i < 12; ++i)
      five.animals[i].before.reset();
    CHECK(preferred_design(five, &control) == Design::two_group);
    five.animals[5].before = five.animals[0].before;
    CHECK(preferred_design(five, &control) == Design::paired);
    // One control animal is no arm where anything else will do.
    const Group one = support::group("C", {}, {9});
    CHECK(preferred_design(mostly_after, &one) == Design::paired);
    CHECK(preferred_design(after_only, &one) == Design::two_group);
    CHECK(preferred_design(mostly_after, nullptr) == Design::paired);
  }
  CHECK(preferred_design(support::group("T", {20}, {2}), nullptr) == Design::paired);
}

TEST_CASE("Arms of another design, or with sides of different length, are no comparison") {
  const std::vector<Count> three = support::counts({40, 22, 31}, 15);
  const std::vector<Count> two = support::counts({4, 2}, 15);
  const auto refused = [](Design design, std::vector<Arm> arms,
                          const std::string& why = "a comparison with sides of different length") {
    const Comparison comparison{design, std::move(arms), {}};
    CHECK_THROWS_AS(in_order_of_counts(comparison), CalculationError);
    CHECK_THROWS_WITH(in_order_of_counts(comparison), why);
    CHECK_THROWS_AS(Evidence(comparison, {}), CalculationError);
  };
  const std::string other_design = "a comparison with arms of another design";
  const std::string no_count = "a comparison without a count on one side";
  for (const Design design : all_designs)
    refused(design, {}, other_design);
  refused(Design::paired, {{}}, no_count);
  refused(Design::paired, {{three, two}});
  refused(Design::paired, {{two, three}});
  refused(Design::paired, {{three, {}}});
  refused(Design::paired, {{three, three}, {three, three}}, other_design);
  refused(Design::two_group, {{three, {}}}, other_design);
  refused(Design::two_group, {{three, {}}, {{}, {}}}, no_count);
  refused(Design::baseline, {{three, {}}, {three, {}}}, no_count);
  refused(Design::two_group, {{{}, {}}, {{}, three}}, no_count);
  refused(Design::controlled, {{three, three}, {{}, {}}});
  refused(Design::two_group, {{three, three}, {{}, two}});
  refused(Design::two_group, {{{}, three}, {{}, two}}, no_count);
  refused(Design::baseline, {{three, {}}, {two, {}}}, no_count);
  refused(Design::controlled, {{three, three}, {two, three}});
  refused(Design::controlled, {{three, three}, {{}, three}});
  CHECK_NOTHROW(Evidence({Design::paired, {{three, three}}, {}}, {}));
  CHECK_NOTHROW(Evidence({Design::two_group, {{three, {}}, {{}, two}}, {}}, {}));
  CHECK_NOTHROW(Evidence({Design::controlled, {{three, three}, {two, two}}, {}}, {}));
}

TEST_CASE("A pool weighs as much as its animals") {
  // Pools of 3 and 1 animals: (3 x 40 + 1 x 80) / 4 = 50 EPG before, (3 x 4 + 1 x 0) / 4 = 3 after.
  Group group = support::group("T", {40, 80}, {4, 0});
  for (std::optional<Count> Animal::*when : {&Animal::before, &Animal::after})
    (group.animals.front().*when)->animals = 3;
  const Comparison paired = *compare(Design::paired, group, nullptr);
  CHECK_THAT(ratio(epg(paired)), support::close_to(3.0 / 50));
  CHECK_THAT(*summarise(paired.arms.front().below).mean_epg, support::close_to(50.0));
  CHECK(summarise(paired.arms.front().below).animals_mixed == 4);

  Group control = support::group("C", {}, {60, 20, 10});
  control.role = Role::control;
  // Against the control's (60 + 20 + 10) / 3 = 30.
  CHECK_THAT(ratio(epg(*compare(Design::two_group, group, &control))), support::close_to(3.0 / 30));
  CHECK(egg_totals(paired).why_not() ==
        "the pools are of different sizes, so their eggs do not add up");
  group.animals.back().before->animals = 3;
  group.animals.back().after->animals = 3;
  CHECK(egg_totals(*compare(Design::paired, group, nullptr)));
}
