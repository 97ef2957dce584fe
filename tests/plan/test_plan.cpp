#include "eggfall/plan/plan.hpp"

#include "eggfall/base/error.hpp"
#include "plan/invented_plan.hpp"
#include "plan/plan_text.hpp"
#include "support/support.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

namespace {

AuditResult simulated(const PlanQuestion& asked, const AuditSettings& settings) {
  AuditResult result = empty_result(farms(asked), settings, {});
  for (auto tasks = next_tasks(result); !tasks.empty(); tasks = next_tasks(result))
    for (const AuditTask& task : tasks)
      add(result.farms[task.farm].tally,
          audit_trials(result.farms[task.farm].farm, settings, task.first, task.trials));
  return result;
}

std::string advice(const Plan& plan) {
  std::string text;
  for (const std::string& sentence : plan_advice(plan))
    text += sentence + "\n";
  return text;
}

} // namespace

TEST_CASE("Chances of a plan are those of an exact enumeration in R") {
  // All animals alike (k 1,000 is as good as no limit), judged by the pooled count alone: R 4.2.2,
  // printed by tests/published/reference.R.
  PlanQuestion asked = question();
  asked.flock.k = 1'000;
  asked.flock.within_cv = 0;
  asked.flock.mean_epg = 12;
  asked.choices = {{Design::paired}, {8}, {{MultiplicationFactor(1), {}, {}}}};
  asked.aim.criteria.front().method = Method::egg_totals_jeffreys;
  asked.aim.efficacies = {0.95, 0.90};
  const auto result = planned(asked, simulated(asked, settings_of(asked.aim, 20'000)));
  struct Exact {
    double susceptible, low, resistant, inconclusive;
  };
  const std::vector<Exact> exact{{0.9995985848, 0, 0, 0.0004014060},
                                 {0.5052429480, 0, 0.0503158190, 0.4444412330},
                                 {0.0508734969, 0, 0.5792720324, 0.3698544707},
                                 {0.0000709501, 0, 0.9947076752, 0.0052213747}};
  REQUIRE(result.front().outcomes.size() == 4);
  for (std::size_t i = 0; i < exact.size(); ++i) {
    const PlanOutcome& outcome = result.front().outcomes[i];
    CAPTURE(outcome.efficacy, outcome.tally.trials);
    const auto agrees = [&](VerdictClass verdict_class, double expected) {
      const Share share = chance(outcome, asked.aim.criteria.front(), 0, verdict_class);
      CHECK(std::abs(share.value - expected) < 4 * share.error);
    };
    agrees(VerdictClass::susceptible, exact[i].susceptible);
    agrees(VerdictClass::low_resistant, exact[i].low);
    agrees(VerdictClass::resistant, exact[i].resistant);
    agrees(VerdictClass::inconclusive, exact[i].inconclusive);
  }
  CHECK(power(result.front(), asked.aim).value ==
        called_resistant(result.front().outcomes.back(), asked.aim.criteria.front(), 0).value);
}

TEST_CASE("Simulation stops where a share is as sure as a half would be in all trials") {
  PlanQuestion asked = question();
  asked.choices.group_sizes = {12};
  const AuditSettings settings = settings_of(asked.aim, 1'500);
  const AuditResult result = simulated(asked, settings);
  const double target = 0.5 / std::sqrt(1'500.0);
  bool stopped_early = false;
  for (const AuditedFarm& audited : result.farms) {
    CHECK(audited.tally.trials >= 500);
    CHECK(audited.tally.trials <= 1'500);
    stopped_early = stopped_early || audited.tally.trials == 500;
    if (audited.tally.trials < 1'500)
      for (const std::uint64_t count : audited.tally.methods.front().verdicts.front())
        CHECK(share(count, audited.tally.trials).error <= target);
  }
  CHECK(stopped_early);
  CHECK(next_tasks(result).empty());
}

TEST_CASE("The coarse quadrature changes no chance by more than the luck of the draw") {
  PlanQuestion asked = question();
  asked.choices.group_sizes = {8};
  AuditSettings settings = settings_of(asked.aim, 400);
  const AuditResult coarse = simulated(asked, settings);
  settings.quadrature = {};
  const AuditResult fine = simulated(asked, settings);
  for (std::size_t c = 0; c < fine.farms.size(); ++c)
    for (std::size_t v = 0; v < verdict_classes; ++v) {
      const auto count = [&](const AuditResult& result) {
        return static_cast<double>(result.farms[c].tally.methods.front().verdicts.front()[v]);
      };
      CHECK(std::abs(count(coarse) - count(fine)) <= 4); // 1 of 100; one standard error is 2.5
    }
}

TEST_CASE("The design advised asks for least of those that will do") {
  const PlanQuestion asked = question();
  const PlannedOption weak = with_power(asked, 6, 50, 1, 90, 70);
  const PlannedOption dear = with_power(asked, 12, 15, 4, 99, 99);
  const PlannedOption cheap = with_power(asked, 15, 50, 1, 85, 88);
  CHECK_THAT(power(weak, asked.aim).value, support::close_to(0.70));
  const std::vector<PlannedOption> all{weak, dear, cheap};
  CHECK(least_demanding(all, asked.aim) == &all[2]);
  CHECK(most_powerful(all, asked.aim) == &all[1]);
  CHECK(least_demanding({weak}, asked.aim) == nullptr);
  // Costs of some only do not compare: fewer animals win.
  std::vector<PlannedOption> half_priced = all;
  half_priced[0].needs.cost.reset();
  CHECK(least_demanding(half_priced, asked.aim) == &half_priced[1]);

  const Plan plan = plan_with(all);
  CHECK(recommended(plan) == &plan.all[2]);
  const std::string text = advice(plan);
  CHECK_THAT(text,
             Catch::StartsWith(
                 "Take 15 animals a group (paired), one egg for 50 EPG (15 animals in all): "
                 "85 of 100 such tests call a drench that truly removes 99.5% susceptible, "
                 "and 88 of 100 call one that removes 80% resistant.\nOf the designs compared "
                 "that reach 80 of 100 both ways, it asks for least: 30 samples and 30 in "
                 "costs."));
  // Where the criteria ask for animals, fewer of them are only the cheapest.
  Plan with_minimum = plan;
  Minimum minimum;
  minimum.animals = 13;
  with_minimum.question.aim.minima = {minimum};
  with_minimum.all[1] = with_power(asked, 12, 15, 0.5, 99, 99);
  CHECK(recommended(with_minimum) == &with_minimum.all[2]);
  CHECK_THAT(advice(with_minimum),
             Catch::Contains("The cheapest that reaches 80 of 100 is 12 animals a group (paired), "
                             "one egg for 15 EPG, with 24 samples and 12 in costs"));
}

TEST_CASE("A flock that cannot answer today is told when it can") {
  const PlanQuestion asked = question({DrugClass::bz, DrugClass::ml});
  Plan plan = plan_with({with_power(asked, 6, 50, 1, 20, 70)});
  plan.question = asked;
  plan.question.flock.animals = 12;
  REQUIRE(recommended(plan) == nullptr);
  CHECK_THAT(advice(plan),
             Catch::StartsWith("This flock or herd cannot answer the question today") &&
                 Catch::Contains("ask for more than such a test can show"));
  for (PlanCase& each : remedies(plan.all.front().option, plan.question.flock)) {
    const bool enough = each.kind == PlanCase::Kind::one_drench ||
                        (each.kind == PlanCase::Kind::more_eggs && each.flock.mean_epg > 1'700) ||
                        (each.kind == PlanCase::Kind::more_animals && each.option.group_size > 17);
    PlannedOption result = with_power(asked, each.option.group_size, 50, 1, enough ? 90 : 30, 95);
    if (each.kind == PlanCase::Kind::one_drench) {
      CHECK(each.option.group_size == 12);
    }
    plan.cases.push_back({std::move(each), std::move(result)});
  }
  CHECK_THAT(advice(plan),
             Catch::Contains("Test one drench at a time: with 12 animals in its group") &&
                 Catch::Contains("With 18 animals a group (36 in all) today's counts would do") &&
                 Catch::Contains("Come back when the mean count is about 1800 EPG or more") &&
                 Catch::Contains("one egg stands for 17 EPG or less"));
}

TEST_CASE("Groups too small for a class are never advised nor called enough") {
  const PlanQuestion asked = question();
  const PlannedOption four = with_power(asked, 4, 50, 1, 100, 100);
  const PlannedOption five = with_power(asked, 5, 50, 1, 90, 90);
  const PlannedOption six = with_power(asked, 6, 50, 1, 70, 70);
  CHECK_FALSE(can_be_judged(four.option));
  CHECK(can_be_judged(five.option));
  CHECK(least_demanding({four}, asked.aim) == nullptr);
  const std::vector<PlannedOption> all{four, six};
  CHECK(most_powerful(all, asked.aim) == &all[1]);

  const Plan enough = plan_with({four, five});
  CHECK(recommended(enough) == &enough.all[1]);
  CHECK_THAT(advice(enough), Catch::StartsWith("Take 5 animals a group") &&
                                 Catch::Contains("gives fewer than 5 animals (or pools) no class"));
  CHECK_THAT(advice(plan_with({five})), !Catch::Contains("no class"));

  Plan none = plan_with({four});
  CHECK(recommended(none) == nullptr);
  for (PlanCase& each : remedies(four.option, none.question.flock)) {
    PlannedOption result = with_power(asked, each.option.group_size, 50, 1, 99, 99);
    none.cases.push_back({std::move(each), std::move(result)});
  }
  // More eggs make no class of four animals, so that nobody is told to come back with them.
  CHECK_THAT(
      advice(none),
      Catch::StartsWith("None of these designs can be advised, whatever the chances shown") &&
          Catch::Contains("Plan with 5 animals a group or more.") &&
          Catch::Contains("With 6 animals a group (6 in all)") &&
          Catch::Contains("gives fewer than 5 animals (or pools) no class") &&
          !Catch::Contains("Come back when the mean count"));
  none.cases.clear();
  CHECK_THAT(advice(none), !Catch::Contains("ask for more than such a test can show"));
}

TEST_CASE("What is tried where no design will do is within what a plan may ask") {
  const PlanQuestion asked = question({DrugClass::bz, DrugClass::ml});
  for (const std::size_t size : {std::size_t{10}, std::size_t{400}, PlanChoices::most_in_group}) {
    PlannedFlock flock = asked.flock;
    flock.animals = 50'000;
    const PlanOption best{Design::paired, size, asked.choices.counting.front()};
    std::size_t one_drench = 0;
    for (const PlanCase& each : remedies(best, flock)) {
      CHECK_NOTHROW(check(question_of(each, asked.aim)));
      CHECK((each.kind != PlanCase::Kind::more_animals || each.option.group_size > size));
      if (each.kind == PlanCase::Kind::one_drench) {
        ++one_drench;
        CHECK(each.option.group_size == PlanChoices::most_in_group);
      }
    }
    CHECK(one_drench == 1);
  }
}

TEST_CASE("A plan of no design has nothing to try") {
  CHECK_THROWS_AS(cases_to_try(Plan{}), CalculationError);
}

TEST_CASE("A season that changes counts is said to mislead a paired test") {
  Plan plan = plan_with({with_power(question(), 12, 50, 1, 99, 99)});
  plan.question.flock.season_change = 0.25;
  // 1 - 0.2 x 0.25
  CHECK_THAT(advice(plan), Catch::Contains("a drench that removes 80% shows a fall of 95.0%"));
  plan.question.flock.season_change = 6;
  CHECK_THAT(advice(plan), Catch::Contains("a drench that removes 80% shows a rise"));

  // And so it does: a failing drench is called susceptible, but not beside a control group.
  PlanQuestion asked = question();
  asked.flock.season_change = 0.1;
  asked.choices.group_sizes = {12};
  asked.choices.designs = {Design::paired, Design::controlled};
  const auto both = planned(asked, simulated(asked, settings_of(asked.aim, 300)));
  const auto wrong = [&](const PlannedOption& planned) {
    return chance(planned.outcomes.back(), asked.aim.criteria.front(), 0, VerdictClass::susceptible)
        .value;
  };
  CHECK(wrong(both[0]) > 0.5);
  CHECK(wrong(both[1]) < 0.1);
}
