#include "eggfall/plan/plan_question.hpp"

#include "plan/invented_plan.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <optional>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

TEST_CASE("What clearly works and fails follows the thresholds") {
  PlannedFlock horses;
  horses.host = "horses";
  horses.worm = "strongyles";
  horses.classes = {DrugClass::bz, DrugClass::pyr, DrugClass::ml};
  const PlanAim aim = plan_aim(clinical(), horses);
  REQUIRE(aim.criteria.size() == 3); // 99/95, 98/88, 99.9/96
  CHECK_THAT(clearly_works(aim.criteria[0]), support::close_to(0.995));
  CHECK_THAT(clearly_fails(aim.criteria[0]), support::close_to(0.80));
  CHECK_THAT(clearly_works(aim.criteria[1]), support::close_to(0.995));
  CHECK_THAT(clearly_fails(aim.criteria[1]), support::close_to(0.78));
  CHECK_THAT(clearly_works(aim.criteria[2]), support::close_to(0.9995));
  CHECK(aim.classes[2] == std::vector<DrugClass>{DrugClass::ml});
  // The 40 eggs a horse of the AAEP, once.
  REQUIRE(aim.minima.size() == 1);
  CHECK(aim.minima.front().eggs_counted_per_animal == 40);

  // Classes with the same thresholds are one question.
  CHECK(question({DrugClass::bz, DrugClass::ml}).aim.criteria.size() == 1);
  PlannedFlock llamas;
  llamas.host = "llamas";
  CHECK_THAT(support::input_error([&] { plan_aim(clinical(), llamas); }),
             Catch::StartsWith("WAAVP 2023, clinical: "));
}

TEST_CASE("A test of what no rule here is for is not planned, but by a rule of one's own") {
  PlannedFlock flock;
  flock.host = "sheep";
  for (const char* worm : {"coccidia", "fluke"}) {
    flock.worm = canonical_worm(worm);
    CHECK_THROWS_WITH(plan_aim(clinical(), flock),
                      Catch::Contains("no rule here is for") &&
                          Catch::Contains("Expected a roundworm, such as strongyles"));
  }
  Criteria own = clinical();
  for (auto& cut_off : own.cut_offs) {
    cut_off.citation.provenance = Provenance::user;
  }
  CHECK(plan_aim(own, flock).criteria.size() == 1);
  flock.worm = "strongyles";
  CHECK(plan_aim(clinical(), flock).criteria.size() == 1);
}

TEST_CASE("What a design asks for, by hand") {
  PlannedFlock flock = question({DrugClass::bz, DrugClass::ml, DrugClass::lv}).flock;
  const CountingChoice counting{MultiplicationFactor(50), 1.5, 5.0};
  // 3 drenches of 12, twice: 72 samples; 108 in costs, 6 hours.
  const PlanDemand paired = demand({Design::paired, 12, counting}, flock);
  CHECK(paired.animals == 36);
  CHECK(paired.samples == 72);
  CHECK_THAT(*paired.cost, support::close_to(108.0));
  CHECK_THAT(*paired.hours, support::close_to(6.0));
  CHECK_THAT(paired.eggs_a_sample, support::close_to(12.0));
  CHECK_THAT(paired.eggs_a_group, support::close_to(144.0));
  // A control group for all three, once or twice.
  CHECK(demand({Design::two_group, 12, counting}, flock).samples == 48);
  CHECK(demand({Design::controlled, 12, counting}, flock).samples == 96);
  CHECK_FALSE(demand({Design::paired, 12, {MultiplicationFactor(50), {}, {}}}, flock).cost);
}

TEST_CASE("Only designs that the animals allow are planned") {
  PlanQuestion asked = question({DrugClass::bz, DrugClass::ml});
  CHECK(options(asked).size() == 2);
  asked.flock.animals = 20; // not 2 x 12
  CHECK(options(asked).size() == 1);
  asked.choices.designs = {Design::paired, Design::controlled};
  asked.flock.animals = 18; // 3 x 6 with a control group
  CHECK(options(asked).size() == 2);
  asked.flock.animals = 11;
  CHECK(support::input_error([&] { check(asked); }) ==
        "11 animals; expected 12 or more: a group size of 6 for each of 2 groups");
  asked.flock.animals.reset();
  asked.aim.power = 1;
  CHECK_THAT(support::input_error([&] { check(asked); }), Catch::StartsWith("the wanted chance"));
  asked = question();
  asked.flock.mean_epg = 0.1; // 0.002 eggs a sample
  CHECK_THROWS_AS(check(asked), InputError);
}

TEST_CASE("Each efficacy to show or to judge by is simulated once, the highest first") {
  PlanAim aim = question().aim; // 99.5% clearly works by the 95% and 90%, and 80% clearly fails
  aim.efficacies = {0.8, 0.95, 0.7, 0.95};
  const std::vector<double> all = simulated_efficacies(aim);
  const std::vector<double> expected{0.995, 0.95, 0.8, 0.7};
  REQUIRE(all.size() == expected.size());
  for (std::size_t i = 0; i < all.size(); ++i)
    CHECK_THAT(all[i], support::close_to(expected[i]));
}

TEST_CASE("Efficacies that differ by their rounding alone are one") {
  CHECK(same_efficacy(0.8, 1 - 0.2));
  CHECK(same_efficacy(0.8, 0.8 + 0.9e-9));
  CHECK_FALSE(same_efficacy(0.8, 0.8 + 1.1e-9));
}

TEST_CASE("An option is simulated as the flock is, with a control group where it has one") {
  PlanQuestion asked = question();
  asked.flock.k = 0.4;
  asked.flock.within_cv = 0.3;
  asked.flock.season_change = 2;
  const CountingChoice counting{MultiplicationFactor(25), {}, {}};
  const auto paired = farms({Design::paired, 12, counting}, asked);
  REQUIRE(paired.size() == 3); // 99.5%, 95% and 80%
  for (const AuditFarm& farm : paired) {
    CHECK(farm.design == Design::paired);
    CHECK(farm.model.animals == 12);
    CHECK(farm.model.control_animals == 0);
    CHECK_THAT(farm.model.mean_eggs, support::close_to(24.0)); // 600 EPG at 25 an egg
    CHECK(farm.model.k == 0.4);
    CHECK(farm.model.within_cv == 0.3);
    CHECK(farm.model.season_change == 2);
    CHECK(farm.model.factor_before == MultiplicationFactor(25));
    CHECK(farm.model.factor_after == MultiplicationFactor(25));
  }
  CHECK_THAT(paired[1].model.efficacy, support::close_to(0.95));
  const auto controlled = farms({Design::controlled, 7, counting}, asked);
  CHECK(controlled.front().model.control_animals == 7);
  CHECK(farms(asked).size() == 2 * 3); // two sizes, three efficacies
}

TEST_CASE("A plan is simulated with the interval that its criteria judge by") {
  PlanAim aim = question().aim;
  const AuditSettings settings = plan_settings(aim, 700, 9);
  CHECK(settings.trials == 700);
  CHECK(settings.seed == 9);
  CHECK(settings.criteria == aim.criteria);
  CHECK(settings.methods == std::vector<Method>{Method::guarded_posterior});
  aim.criteria.front().method = Method::log_ratio_1992;
  CHECK(plan_settings(aim, 700, 9).methods == std::vector<Method>{Method::log_ratio_1992});
}

TEST_CASE("Published minima are those of every set of criteria for the flock") {
  const auto asks = [](const std::string& host, const std::string& title) {
    PlannedFlock flock;
    flock.host = host;
    const auto minima = published_minima(published_cut_offs(), flock);
    return std::ranges::count(minima, title, &NamedMinimum::asked_by);
  };
  // WAAVP 1992 asks for 10 sheep a group, and says nothing of horses.
  CHECK(asks("sheep", "WAAVP 1992") == 1);
  CHECK(asks("horses", "WAAVP 1992") == 0);
  // The 40 eggs a horse are the AAEP's (2024, p. 14), not the 2023 guideline's.
  CHECK(asks("horses", "AAEP Internal Parasite Control Guidelines 2024, p. 14") == 2);
  CHECK(asks("horses", "WAAVP 2023, clinical") == 0);
  PlannedFlock sheep;
  sheep.host = "sheep";
  const auto minima = published_minima(published_cut_offs(), sheep);
  const auto found = std::ranges::find(minima, "WAAVP 1992", &NamedMinimum::asked_by);
  REQUIRE(found != minima.end());
  CHECK(found->minimum.animals == 10);
}

TEST_CASE("A plan whose numbers are out of range is refused") {
  const auto refused = [](auto&& change) {
    PlanQuestion asked = question();
    change(asked);
    return support::input_error([&] { check(asked); });
  };
  CHECK(refused([](PlanQuestion& asked) { asked.aim.criteria.clear(); }) ==
        "a plan without criteria; expected one for each class");
  const std::string no_choice =
      "a plan without a choice; expected a design, a group size and a way "
      "of counting, or several of each";
  CHECK(refused([](PlanQuestion& asked) { asked.choices = {}; }) == no_choice);
  CHECK(refused([](PlanQuestion& asked) { asked.choices.designs.clear(); }) == no_choice);
  CHECK(refused([](PlanQuestion& asked) { asked.choices.group_sizes.clear(); }) == no_choice);
  CHECK(refused([](PlanQuestion& asked) { asked.choices.counting.clear(); }) == no_choice);
  CHECK_THAT(refused([](PlanQuestion& asked) { asked.aim.power = 0.49; }),
             Catch::StartsWith("the wanted chance: found 0.49"));
  CHECK_THAT(refused([](PlanQuestion& asked) { asked.aim.efficacies = {1.01}; }),
             Catch::StartsWith("a true efficacy: found 1.01"));
  CHECK_THAT(refused([](PlanQuestion& asked) { asked.choices.group_sizes = {1}; }),
             Catch::StartsWith("a group size: found 1"));
  CHECK_THAT(refused([](PlanQuestion& asked) { asked.choices.group_sizes = {1'001}; }),
             Catch::StartsWith("a group size: found 1001"));
  CHECK_THAT(refused([](PlanQuestion& asked) { asked.choices.designs = {Design::baseline}; }),
             Catch::StartsWith("the design baseline"));
  CHECK_NOTHROW(check(question()));
}
