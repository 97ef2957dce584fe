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
    CHECK(preferred_design(mostly_after, nullptr) == Design::paired);
  }
  CHECK(preferred_design(support::group("T", {20}, {2}), nullptr) == Design::paired);
}

TEST_CASE("Arms of another design, or with sides of different length, are no comparison") {
  const std::vector<Count> three = support::counts({40, 22, 31}, 15);
  const std::vector<Count> two = support::counts({4, 2}, 15);
  const auto refused = [](Design design, std::vector<Arm> arms) {
    const Comparison comparison{design, std::move(arms), {}};
    CHECK_THROWS_AS(in_order_of_counts(comparison), CalculationError);
    CHECK_THROWS_AS(Evidence(comparison, {}), CalculationError);
  };
  for (const Design design : all_designs)
    refused(design, {});
  refused(Design::paired, {{}});
  refused(Design::paired, {{three, two}});
  refused(Design::paired, {{two, three}});
  refused(Design::paired, {{three, {}}});
  refused(Design::paired, {{three, three}, {three, three}});
  refused(Design::two_group, {{three, {}}});
  refused(Design::two_group, {{three, three}, {{}, two}});
  refused(Design::two_group, {{{}, three}, {{}, two}});
  refused(Design::baseline, {{three, {}}, {two, {}}});
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
