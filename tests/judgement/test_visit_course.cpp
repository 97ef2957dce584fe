#include "judgement/visit_course.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "support/support.hpp"
#include "trial/visits.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// Counts of one visit, negative: not sampled.
void visit(Group& group, int day, const std::vector<int>& eggs, double factor = 5) {
  for (std::size_t i = 0; i < eggs.size(); ++i)
    if (eggs[i] >= 0)
      group.animals.at(i).visits.push_back(
          {day,
           Count{EggsSeen(static_cast<std::uint32_t>(eggs[i])), MultiplicationFactor(factor)},
           {}});
}

Group horses() {
  Group group = support::group("ivm", {54, 34, 106, 217, 74, 40, 21, 159}, {}, 5, 5);
  group.host = "horses";
  group.worm = "strongyles";
  group.drench = "ivermectin";
  group.classes = {DrugClass::ml};
  return group;
}

AnalysisSettings quick() {
  AnalysisSettings settings;
  settings.simulations = 0;
  return settings;
}

TrialAnalysis analysed(std::vector<Group> groups) {
  return analyse({"t", std::move(groups)}, published_cut_offs(), quick());
}

} // namespace

TEST_CASE("Each visit is compared with the same animals before treatment, as any test is") {
  Group group = horses();
  visit(group, 14, {0, 0, 0, 0, 0, 0, 0, 1});
  visit(group, 42, {30, 10, 20, 40, -1, 9, 0, 60});
  const std::vector<VisitFall> falls = visit_falls(group, {}, {}, 0.9);
  REQUIRE(falls.size() == 2);
  CHECK(falls[0].day == 14);
  CHECK(falls[0].animals == 8);
  CHECK(falls[0].missing == 0);
  CHECK_THAT(*falls[0].reduction, support::close_to(1 - 1.0 / 705));
  CHECK(falls[1].animals == 7);
  CHECK(falls[1].missing == 1);
  // Without the horse that was not sampled: (705 - 74) eggs before, 169 then, by hand.
  CHECK_THAT(*falls[1].mean_before, support::close_to(5 * 631.0 / 7));
  CHECK_THAT(*falls[1].mean_epg, support::close_to(5 * 169.0 / 7));
  CHECK_THAT(*falls[1].reduction, support::close_to(1 - 169.0 / 631));
  // The interval is the one that a test of these counts would have.
  const Evidence test(*compare(Design::paired, on_visit(group, 42), nullptr), {});
  CHECK(falls[1].interval.lower == test.headline(0.9).lower);
  CHECK(falls[1].interval.upper == test.headline(0.9).upper);
  CHECK(falls[1].law.has_value());
}

TEST_CASE("A visit with other factors, without eggs, or of nobody, is told as it is") {
  Group group = horses();
  visit(group, 14, {0, 0, 0, 0, 0, 0, 0, 0}, 1);
  visit(group, 28, {-1, -1, -1, -1, -1, -1, -1, -1});
  group.animals[0].before.reset();
  visit(group, 42, {3});
  const std::vector<VisitFall> falls = visit_falls(group, {}, {}, 0.9);
  REQUIRE(falls.size() == 2); // on day 28 nobody was sampled
  CHECK(*falls[0].reduction == 1);
  CHECK(falls[0].without_before == 1);
  CHECK(falls[0].interval.usable());
  CHECK(falls[1].animals == 0);
  CHECK_FALSE(falls[1].reduction);
  CHECK_FALSE(falls[1].interval.usable());
  CHECK(falls[1].missing == 7);
  CHECK(falls[1].without_before == 1);
  CHECK(visit_falls(support::group("g", {3, 4}, {0, 1}), {}, {}, 0.9).empty());
}

TEST_CASE("No fall is made of animals that had no egg before") {
  Group group = support::group("g", {0, 0, 0}, {});
  visit(group, 14, {0, 0, 0});
  const std::vector<VisitFall> falls = visit_falls(group, {}, {}, 0.9);
  CHECK_FALSE(falls[0].reduction);
  CHECK(*falls[0].mean_epg == 0);
  CHECK_FALSE(falls[0].interval.usable());
}

TEST_CASE("The test is judged on its own visit alone, and says which") {
  Group alone = horses();
  visit(alone, 14, {0, 0, 0, 0, 0, 0, 0, 1});
  const TrialAnalysis short_trial = analysed({alone});
  Group group = alone;
  visit(group, 28, {9, 3, 11, 20, 7, 4, 2, 16});
  visit(group, 56, {54, 34, 106, 217, 74, 40, 21, 159});
  const TrialAnalysis trial = analysed({group});
  const GroupAnalysis& judged = trial.groups[0];
  CHECK(judged.evidence.group.day_after == 14);
  CHECK(judged.evidence.headline.lower == short_trial.groups[0].evidence.headline.lower);
  CHECK(judged.judgement.standing.verdict_class ==
        short_trial.groups[0].judgement.standing.verdict_class);
  CHECK(judged.judgement.standing.bars.empty());
  CHECK(judged.field.days.first_day == 14); // as planned, without dates
  CHECK(judged.field.days.undated == 0);
  REQUIRE(judged.course.visits.size() == 3);
  CHECK(judged.course.visits[0].is_test);
  CHECK_FALSE(judged.course.visits[1].is_test);
}

TEST_CASE("Of visits that all lie too late the nearest is barred by its day") {
  Group group = horses();
  visit(group, 28, {0, 0, 0, 0, 0, 0, 0, 1});
  visit(group, 42, {9, 3, 11, 20, 7, 4, 2, 16});
  const GroupAnalysis judged = analysed({group}).groups[0];
  CHECK(judged.evidence.group.day_after == 28);
  REQUIRE_FALSE(judged.judgement.standing.bars.empty());
  CHECK(judged.judgement.standing.bars[0].code == BarCode::day);
  CHECK(judged.judgement.standing.verdict_class == VerdictClass::not_applicable);
}

TEST_CASE("A test with a sample of its own keeps it beside visits") {
  Group group = support::group("ivm", {54, 34, 106}, {1, 0, 2});
  visit(group, 28, {9, 3, 11});
  const GroupAnalysis judged = analysed({group}).groups[0];
  CHECK_FALSE(judged.evidence.group.day_after);
  CHECK(judged.evidence.after.eggs == 3);
  REQUIRE(judged.course.visits.size() == 2);
  CHECK_FALSE(judged.course.visits[0].day); // nothing dates it
  CHECK(judged.course.visits[0].is_test);
  CHECK(judged.course.visits[1].day == 28);
}

TEST_CASE("Untreated animals are taken on the day of the group's test") {
  Group ivm = horses();
  visit(ivm, 14, {0, 0, 0, 0, 0, 0, 0, 1});
  visit(ivm, 28, {1, 0, 2, 3, 0, 0, 1, 4});
  Group control = support::group("none", {50, 30, 60, 44}, {}, 5, 5);
  control.role = Role::control;
  visit(control, 14, {48, 33, 55, 40});
  visit(control, 28, {20, 15, 30, 22});
  const TrialAnalysis trial = analysed({ivm, control});
  REQUIRE(trial.control);
  CHECK(trial.control->after.eggs == 176);
  CHECK_THAT(*trial.control->reduction, support::close_to(1 - 176.0 / 184));
  REQUIRE(trial.control->visits.size() == 2);
  CHECK(trial.control->visits[0].is_test);
  CHECK_THAT(*trial.control->visits[1].reduction, support::close_to(1 - 87.0 / 184));
  // A control without a sample on that day has none after treatment.
  Group absent = support::group("none", {50, 30, 60, 44}, {}, 5, 5);
  absent.role = Role::control;
  visit(absent, 28, {20, 15, 30, 22});
  const TrialAnalysis other = analysed({ivm, absent});
  CHECK(other.control->after.animals == 0);
  CHECK_FALSE(other.control->reduction);
}

TEST_CASE("Drenches of other classes are judged on other days, each with the control of its day") {
  const auto sheep = [](const char* name, DrugClass drug_class) {
    Group group = support::group(name, {40, 33, 51, 28, 61, 44}, {});
    group.classes = {drug_class};
    visit(group, 7, {0, 1, 0, 0, 0, 1}, 1);
    visit(group, 17, {9, 8, 7, 6, 5, 4}, 1);
    return group;
  };
  Group control = support::group("none", {50, 30, 60, 44}, {});
  control.role = Role::control;
  visit(control, 7, {50, 30, 60, 44}, 1);
  visit(control, 17, {100, 60, 120, 88}, 1);
  const TrialAnalysis trial =
      analysed({sheep("lv", DrugClass::lv), sheep("ml", DrugClass::ml), control});
  CHECK(trial.groups[0].evidence.group.day_after == 7);  // LV: day 3 to 10
  CHECK(trial.groups[1].evidence.group.day_after == 17); // ML: day 14 to 17
  CHECK(trial.control->after.eggs == 184);               // shown on the first group's day
  const auto control_fall = [&](std::size_t group) {
    return trial.groups[group].judgement.own_fall->control_fall;
  };
  REQUIRE(trial.groups[0].judgement.own_fall);
  REQUIRE(trial.groups[1].judgement.own_fall);
  CHECK_THAT(*control_fall(0), support::close_to(0.0));
  CHECK_THAT(*control_fall(1), support::close_to(-1.0));
}

TEST_CASE(
    "A later visit on which counts had not stayed down makes a good test one to take care of") {
  // Fifteen lambs: 600 eggs before, 3 on day 10, and on day 14 a fall of 70% or 100%.
  const auto lambs = [](int later_day, const std::vector<int>& later) {
    Group group = support::group("white", std::vector<std::uint32_t>(15, 40), {}, 15, 15);
    group.classes = {DrugClass::bz};
    visit(group, 10, {1, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0}, 15);
    visit(group, later_day, later, 15);
    return analysed({group}).groups[0];
  };
  const std::vector<int> many(15, 12);
  const GroupAnalysis back = lambs(14, many);
  REQUIRE(back.evidence.group.day_after == 10);
  CHECK(back.judgement.standing.by_counts_alone == VerdictClass::susceptible);
  CHECK(back.judgement.standing.care == Care::later_visit);
  CHECK(back.judgement.standing.sign == DrenchSign::works_with_care);
  CHECK(std::ranges::is_sorted(back.caveats, {}, &Caveat::severity));
  const auto told = std::ranges::find(back.caveats, CaveatCode::later_visit, &Caveat::code);
  REQUIRE(told != back.caveats.end());
  CHECK(told->severity == Severity::serious);
  CHECK(told->text ==
        "By the visit on day 14 counts had fallen by only 70.0%, below the 90% that the rule asks "
        "for, and too soon for newly picked-up worms to lay (practice, up to day 21). The test's "
        "own day 10 may have caught worms that had only stopped laying.");
  CHECK(back.advice.next_step.text().find("nothing speaks against") == std::string::npos);
  CHECK_THAT(back.advice.next_step.text(), Catch::Contains("do not rely on this drench alone"));
  // Newly picked-up worms lay from then on, and what stayed down speaks for the drench.
  CHECK(lambs(22, many).judgement.standing.care != Care::later_visit);
  CHECK(lambs(14, std::vector<int>(15, 0)).judgement.standing.care != Care::later_visit);
}

TEST_CASE("Of later visits the gravest is told, and only beside a verdict that they contradict") {
  const auto fall = [](int day, double reduction, double upper) {
    VisitFall visit;
    visit.day = day;
    visit.reduction = reduction;
    visit.interval.lower = reduction - 0.1;
    visit.interval.upper = upper;
    return visit;
  };
  Verdict verdict;
  verdict.verdict_class = VerdictClass::susceptible;
  verdict.lower = 0.9;
  verdict.expected = 0.95;
  VisitFall test = fall(8, 0.99, 1.0);
  test.is_test = true;
  const auto told = [&](std::vector<VisitFall> visits) {
    visits.push_back(test);
    const auto caveat = later_visit_caveat(visits, verdict);
    return caveat ? std::string(to_string(caveat->severity)) + caveat->text.substr(0, 22)
                  : std::string();
  };
  CHECK(told({}).empty());
  CHECK(told({fall(14, 0.9, 0.94)}).empty()); // the threshold itself
  CHECK(told({fall(14, 0.89, 0.94)}) == "seriousBy the visit on day 14");
  CHECK(told({fall(14, 0.89, 0.95)}) == "warningBy the visit on day 14");
  CHECK(told({fall(14, 0.89, 0.97), fall(21, 0.8, 0.9)}) == "seriousBy the visit on day 21");
  CHECK(told({fall(14, 0.8, 0.9), fall(21, 0.7, 0.8)}) == "seriousBy the visit on day 14");
  CHECK(told({fall(22, 0.5, 0.6)}).empty());
  CHECK(told({fall(7, 0.5, 0.6), fall(8, 0.5, 0.6)}).empty()); // earlier, and the test's own day
  CHECK(later_visit_caveat({test, fall(14, -0.2, 0.1)}, verdict)->text.find("had risen by 20.0%") !=
        std::string::npos);
  test.day.reset(); // which visits are later is then not known
  CHECK(told({fall(14, 0.5, 0.6)}).empty());
  test.day = 8;
  verdict.verdict_class = VerdictClass::resistant;
  CHECK(told({fall(14, 0.5, 0.6)}).empty());
}
