#include "eggfall/plan/plan.hpp"

#include "base/text.hpp"
#include "eggfall/statistics/mean_posterior.hpp"
#include "plan/plan_json.hpp"
#include "plan/plan_page.hpp"
#include "plan/plan_text.hpp"
#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace eggfall;

namespace {

Criteria clinical() {
  return published_cut_offs().criteria.front();
}

PlanQuestion question(std::vector<DrugClass> classes = {DrugClass::bz}) {
  PlanQuestion result;
  result.flock.host = "sheep";
  result.flock.classes = std::move(classes);
  result.flock.mean_epg = 600;
  result.choices = {{Design::paired}, {6, 12}, {{MultiplicationFactor(50), 1.5, 5.0}}};
  result.aim = plan_aim(clinical(), result.flock);
  result.aim.efficacies = {0.95};
  return result;
}

AuditSettings settings_of(const PlanAim& aim, std::size_t trials) {
  AuditSettings settings = plan_settings(aim, trials, 1);
  settings.resamples = 200;
  return settings;
}

AuditResult simulated(const PlanQuestion& of, const AuditSettings& settings) {
  AuditResult result = empty_result(cells(of), settings, {});
  for (auto tasks = next_tasks(result); !tasks.empty(); tasks = next_tasks(result))
    for (const AuditTask& task : tasks)
      add(result.cells[task.cell].tally,
          audit_trials(result.cells[task.cell].cell, settings, task.first, task.trials));
  return result;
}

/// An option with so many of 100 right answers each way, at the only efficacies that count.
PlannedOption with_power(const PlanQuestion& of, std::size_t size, double factor,
                         std::optional<double> cost, std::uint64_t good, std::uint64_t poor) {
  PlannedOption result;
  result.option = {Design::paired, size, {MultiplicationFactor(factor), cost, std::nullopt}};
  result.needs = demand(result.option, of.flock);
  for (const double efficacy : {0.995, 0.95, 0.8}) {
    PlanOutcome outcome;
    outcome.efficacy = efficacy;
    outcome.tally.trials = 100;
    MethodTally tally;
    VerdictTally classes{};
    classes[static_cast<std::size_t>(VerdictClass::susceptible)] = efficacy > 0.9 ? good : 0;
    classes[static_cast<std::size_t>(VerdictClass::low_resistant)] = efficacy < 0.9 ? poor / 2 : 0;
    classes[static_cast<std::size_t>(VerdictClass::resistant)] =
        efficacy < 0.9 ? poor - poor / 2 : 0;
    tally.classes = {classes};
    outcome.tally.methods = {tally};
    result.outcomes.push_back(outcome);
  }
  return result;
}

Plan plan_with(std::vector<PlannedOption> all) {
  Plan plan;
  plan.question = question();
  plan.settings = settings_of(plan.question.aim, 100);
  plan.all = std::move(all);
  return plan;
}

std::string advice(const Plan& plan) {
  std::string text;
  for (const std::string& sentence : plan_advice(plan))
    text += sentence + "\n";
  return text;
}

} // namespace

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
  PlanQuestion of = question({DrugClass::bz, DrugClass::ml});
  CHECK(options(of).size() == 2);
  of.flock.animals = 20; // not 2 x 12
  CHECK(options(of).size() == 1);
  of.choices.designs = {Design::paired, Design::controlled};
  of.flock.animals = 18; // 3 x 6 with a control group
  CHECK(options(of).size() == 2);
  of.flock.animals = 11;
  CHECK(support::input_error([&] { check(of); }) ==
        "11 animals; expected 12 or more: a group size of 6 for each of 2 groups");
  of.flock.animals.reset();
  of.aim.power = 1;
  CHECK_THAT(support::input_error([&] { check(of); }), Catch::StartsWith("the wanted chance"));
  of = question();
  of.flock.mean_epg = 0.1; // 0.002 eggs a sample
  CHECK_THROWS_AS(check(of), InputError);
}

TEST_CASE("Chances of a plan are those of an exact enumeration in R") {
  // All animals alike (k 1,000 is as good as no limit), judged by the pooled count alone: R 4.2.2,
  // printed by tests/published/reference.R.
  PlanQuestion of = question();
  of.flock.k = 1'000;
  of.flock.within_cv = 0;
  of.flock.mean_epg = 12;
  of.choices = {{Design::paired}, {8}, {{MultiplicationFactor(1), {}, {}}}};
  of.aim.criteria.front().method = Method::pooled_count_jeffreys;
  of.aim.efficacies = {0.95, 0.90};
  const auto result = planned(of, simulated(of, settings_of(of.aim, 20'000)));
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
      const Share share = chance(outcome, of.aim.criteria.front(), 0, verdict_class);
      CHECK(std::abs(share.value - expected) < 4 * share.error);
    };
    agrees(VerdictClass::susceptible, exact[i].susceptible);
    agrees(VerdictClass::low_resistant, exact[i].low);
    agrees(VerdictClass::resistant, exact[i].resistant);
    agrees(VerdictClass::inconclusive, exact[i].inconclusive);
  }
  CHECK(power(result.front(), of.aim).value ==
        called_resistant(result.front().outcomes.back(), of.aim.criteria.front(), 0).value);
}

TEST_CASE("Simulation stops where a share is as sure as a half would be in all trials") {
  PlanQuestion of = question();
  of.choices.group_sizes = {12};
  const AuditSettings settings = settings_of(of.aim, 1'500);
  const AuditResult result = simulated(of, settings);
  const double target = 0.5 / std::sqrt(1'500.0);
  bool stopped_early = false;
  for (const AuditedCell& cell : result.cells) {
    CHECK(cell.tally.trials >= 500);
    CHECK(cell.tally.trials <= 1'500);
    stopped_early = stopped_early || cell.tally.trials == 500;
    if (cell.tally.trials < 1'500)
      for (const std::uint64_t count : cell.tally.methods.front().classes.front())
        CHECK(share(count, cell.tally.trials).error <= target);
  }
  CHECK(stopped_early);
  CHECK(next_tasks(result).empty());
}

TEST_CASE("The coarse quadrature changes no chance by more than the luck of the draw") {
  PlanQuestion of = question();
  of.choices.group_sizes = {8};
  AuditSettings settings = settings_of(of.aim, 400);
  const AuditResult coarse = simulated(of, settings);
  settings.quadrature = {};
  const AuditResult fine = simulated(of, settings);
  for (std::size_t c = 0; c < fine.cells.size(); ++c)
    for (std::size_t v = 0; v < verdict_classes; ++v) {
      const auto count = [&](const AuditResult& result) {
        return static_cast<double>(result.cells[c].tally.methods.front().classes.front()[v]);
      };
      CHECK(std::abs(count(coarse) - count(fine)) <= 4); // 1 of 100; one standard error is 2.5
    }
}

TEST_CASE("The design advised asks for least of those that will do") {
  const PlanQuestion of = question();
  const PlannedOption weak = with_power(of, 6, 50, 1, 90, 70);
  const PlannedOption dear = with_power(of, 12, 15, 4, 99, 99);
  const PlannedOption cheap = with_power(of, 15, 50, 1, 85, 88);
  CHECK_THAT(power(weak, of.aim).value, support::close_to(0.70));
  const std::vector<PlannedOption> all{weak, dear, cheap};
  CHECK(least_demanding(all, of.aim) == &all[2]);
  CHECK(most_powerful(all, of.aim) == &all[1]);
  CHECK(least_demanding({weak}, of.aim) == nullptr);
  // Costs of some only do not compare: fewer animals win.
  std::vector<PlannedOption> half_priced = all;
  half_priced[0].needs.cost.reset();
  CHECK(least_demanding(half_priced, of.aim) == &half_priced[1]);

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
  with_minimum.all[1] = with_power(of, 12, 15, 0.5, 99, 99);
  CHECK(recommended(with_minimum) == &with_minimum.all[2]);
  CHECK_THAT(advice(with_minimum),
             Catch::Contains("The cheapest that reaches 80 of 100 is 12 animals a group (paired), "
                             "one egg for 15 EPG, with 24 samples and 12 in costs"));
}

TEST_CASE("A flock that cannot answer today is told when it can") {
  const PlanQuestion of = question({DrugClass::bz, DrugClass::ml});
  Plan plan = plan_with({with_power(of, 6, 50, 1, 20, 70)});
  plan.question = of;
  plan.question.flock.animals = 12;
  REQUIRE(recommended(plan) == nullptr);
  CHECK_THAT(advice(plan),
             Catch::StartsWith("This flock or herd cannot answer the question today") &&
                 Catch::Contains("ask for more than such a test can show"));
  for (PlanCase& each : remedies(plan.all.front().option, plan.question.flock)) {
    const bool enough = each.kind == PlanCase::Kind::one_drench ||
                        (each.kind == PlanCase::Kind::more_eggs && each.flock.mean_epg > 1'700) ||
                        (each.kind == PlanCase::Kind::more_animals && each.option.group_size > 17);
    PlannedOption result = with_power(of, each.option.group_size, 50, 1, enough ? 90 : 30, 95);
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

TEST_CASE("A season that changes counts is said to mislead a paired test") {
  Plan plan = plan_with({with_power(question(), 12, 50, 1, 99, 99)});
  plan.question.flock.season_change = 0.25;
  // 1 - 0.2 x 0.25
  CHECK_THAT(advice(plan), Catch::Contains("a drench that removes 80% shows a fall of 95.0%"));
  plan.question.flock.season_change = 6;
  CHECK_THAT(advice(plan), Catch::Contains("a drench that removes 80% shows a rise"));

  // And so it does: a failing drench is called susceptible, but not beside a control group.
  PlanQuestion of = question();
  of.flock.season_change = 0.1;
  of.choices.group_sizes = {12};
  of.choices.designs = {Design::paired, Design::controlled};
  const auto both = planned(of, simulated(of, settings_of(of.aim, 300)));
  const auto wrong = [&](const PlannedOption& planned) {
    return chance(planned.outcomes.back(), of.aim.criteria.front(), 0, VerdictClass::susceptible)
        .value;
  };
  CHECK(wrong(both[0]) > 0.5);
  CHECK(wrong(both[1]) < 0.1);
}

TEST_CASE("A pilot count gives mean and k, with their limits") {
  // Bliss & Fisher 1953, mites on apple leaves: mean 1.146667, k 1.024592 by maximum likelihood.
  std::vector<std::uint32_t> leaves;
  const std::vector<std::size_t> on{70, 38, 17, 10, 9, 3, 2, 1};
  for (std::uint32_t mites = 0; mites < on.size(); ++mites)
    leaves.insert(leaves.end(), on[mites], mites);
  const std::vector<Count> counts = support::counts(leaves, 1);
  const Pilot pilot = pilot_of(counts, 1);
  CHECK(pilot.animals == 150);
  CHECK(pilot.eggs == 172);
  CHECK_THAT(pilot.mean_epg, Catch::Matchers::WithinAbs(1.146667, 1e-6));
  CHECK_THAT(pilot.k, Catch::Matchers::WithinAbs(1.0246, 0.15));
  CHECK((pilot.lower_k < 1.0246 && pilot.upper_k > 1.0246));
  // The limits of the mean are those of its posterior by quadrature, but for 4,000 draws.
  const LogRatioDensity density = mean_posterior(counts, MeanPrior());
  CHECK_THAT(pilot.lower_mean_epg,
             Catch::Matchers::WithinRel(std::exp(density.quantile(0.05).value), 0.02));
  CHECK_THAT(pilot.upper_mean_epg,
             Catch::Matchers::WithinRel(std::exp(density.quantile(0.95).value), 0.02));
  CHECK(pilot_of(counts, 1).k == pilot.k);
  CHECK(support::input_error([] {
          pilot_of(support::counts({3, 4}, 50), 1);
        }) == "2 pilot counts with 7 eggs; expected 3 or more, and some eggs");
  CHECK_THROWS_AS(pilot_of(support::counts({0, 0, 0}, 50), 1), InputError);
}

TEST_CASE("A plan fits 80 columns, and its JSON and CSV hold what it shows") {
  PlanQuestion of = question();
  of.choices.group_sizes = {6};
  Plan plan = plan_with({with_power(of, 6, 50, 1.5, 99, 81)});
  plan.pilot = Pilot{9, 80, 600, 210, 900, 0.5, 0.2, 1.4};
  plan.published = published_minima(published_cut_offs(), plan.question.flock);
  const std::string text = plan_text(plan, Verbosity::full);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(character_count(line) <= 80);
  }
  CHECK_THAT(text, Catch::Contains("99/0") && Catch::Contains("0/81") &&
                       Catch::Contains("WAAVP 1992 asks for at least 10 animals a group"));
  const auto json = nlohmann::json::parse(plan_json(plan));
  CHECK(json["schema"] == "eggfall.plan/1");
  CHECK(json["recommended"] == 0);
  CHECK(json["designs"][0]["power"]["percent"] == 81);
  CHECK(json["designs"][0]["by_criteria"][0]["outcomes"][2]["low_resistant"]["percent"] == 40);
  CHECK(json["pilot"]["k_upper"] == 1.4);
  CHECK(json["flock"]["animals"].is_null());
  const std::string csv = plan_csv(plan);
  CHECK_THAT(csv, Catch::Contains("paired,6,50,6,12,12,18,,BZ,waavp-2023-clinical,80.000000,100,"
                                  "0.000000,40.000000,41.000000,0.000000,0.000000,0.000000,"
                                  "81.000000\r\n"));
}

TEST_CASE("A plan's page holds its advice, figure and shaded table, and frames what will do") {
  PlanQuestion of = question();
  Plan plan = plan_with({with_power(of, 6, 50, 1, 90, 62), with_power(of, 12, 50, 1, 90, 95),
                         with_power(of, 6, 15, 2, 100, 97), with_power(of, 12, 15, 2, 100, 99)});
  plan.question.flock.host = "<b>sheep</b>";
  const std::string page = plan_report(plan);
  for (const std::string& sentence : plan_advice(plan))
    CHECK_THAT(page, Catch::Contains("<p>" + sentence + "</p>"));
  CHECK_THAT(page, Catch::Contains("&lt;b&gt;sheep&lt;/b&gt;") && !Catch::Contains("<b>"));
  CHECK_THAT(page, Catch::Contains("<td class=\"s3\">62</td><td class=\"s4 enough\">97</td>"));
  CHECK_THAT(page, Catch::Contains("<td class=\"s4 enough\">90</td>"));
  CHECK_THAT(page, Catch::Contains("Wear gloves and wash hands"));
  CHECK_THAT(page, !Catch::Contains("http-equiv") && !Catch::Contains("<script") &&
                       !Catch::Contains("src="));
  // Two rows of three panels, and a mark for each size and efficacy in them and in the legend.
  const std::string figure = plan_figure(plan, 0);
  const auto count = [&](const std::string& what) {
    std::size_t found = 0;
    for (std::size_t at = figure.find(what); at != std::string::npos;
         at = figure.find(what, at + 1))
      ++found;
    return found;
  };
  CHECK(count("<circle") == 2 * 3 * 2 * 3 + 2);
  CHECK(count(">called resistant<") == 2);
  CHECK_THAT(figure, Catch::Contains(">12 animals<") && Catch::Contains("<desc>"));
}
