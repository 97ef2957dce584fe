#include "report/visit_words.hpp"

#include "base/text.hpp"
#include "support/support.hpp"

#include <sstream>

using namespace eggfall;

namespace {

EggReappearance ivermectin() {
  EggReappearance reappearance;
  reappearance.outcome = ReappearanceOutcome::cannot_tell;
  reappearance.threshold = 0.9;
  reappearance.level = 0.9;
  reappearance.expected = ExpectedWeeks{6, 8, "ivermectin", {"s", Provenance::memory}};
  reappearance.chances = {{28, 0.12, 0.12}, {42, 0.8349, 0.8349}};
  reappearance.last_day_clear = 28;
  reappearance.first_day_back = 42;
  reappearance.shorter_at_least = 0.12;
  reappearance.shorter_at_most = 0.8349;
  return reappearance;
}

Standing standing(VerdictClass verdict_class) {
  Standing result;
  result.verdict_class = verdict_class;
  return result;
}

std::string all(const EggReappearance& reappearance,
                VerdictClass stands = VerdictClass::susceptible) {
  std::string text;
  for (const std::string& sentence : reappearance_sentences(reappearance, standing(stands)))
    text += (text.empty() ? "" : " ") + sentence;
  return text;
}

VisitFall visit(int day, bool is_test = false) {
  VisitFall fall;
  fall.day = day;
  fall.is_test = is_test;
  fall.animals = 12;
  fall.mean_before = 440;
  fall.mean_epg = 4;
  fall.reduction = 0.99;
  fall.interval.lower = 0.95;
  fall.interval.upper = 0.999;
  fall.interval.level = 0.9;
  return fall;
}

} // namespace

TEST_CASE("A visit is called by its week where it has one") {
  CHECK(visit_name(28) == "week 4");
  CHECK(visit_name(30) == "day 30");
  CHECK(visit_name(std::nullopt) == "day not known");
}

TEST_CASE("Eggs come back between two visits, with the chances and what is expected") {
  CHECK(all(ivermectin()) ==
        "By the counts eggs came back between week 4 and week 6, the first visit with a fall below "
        "90%. Chances "
        "of 100 that eggs were back: 12 by week 4, 83 by week 6. Expected of ivermectin while it "
        "works: 6 to 8 weeks (from memory). Whether it was shorter these visits cannot tell: the "
        "chance "
        "of less than 6 weeks is between 12 and 83 of 100. Taken for granted: that the true fall "
        "only wears off, and that the season changed nothing. This is no reduction test, and no "
        "class hangs on it.");
}

TEST_CASE("What is likely, and what was surely shorter, is said first") {
  EggReappearance reappearance = ivermectin();
  reappearance.shorter_at_least = 0.8349;
  CHECK_THAT(all(reappearance),
             Catch::Contains("This was likely shorter, an early sign that worms outlast "
                             "the drench, though these visits cannot be sure: the chance "
                             "of less than 6 weeks is 83 of 100."));
  reappearance.outcome = ReappearanceOutcome::shorter;
  reappearance.shorter_at_least = 0.97;
  CHECK_THAT(all(reappearance),
             Catch::Contains("This was shorter, an early sign that worms outlast the "
                             "drench: the chance of less than 6 weeks is at least 97"));
  VisitCourse course;
  course.reappearance = reappearance;
  CHECK_THAT(plain_reappearance(course), Catch::StartsWith("Eggs were back by week 6. A drench of "
                                                           "this kind keeps them away for 6"));
}

TEST_CASE("Visits that say nothing of a return, or end too early, say so") {
  EggReappearance reappearance = ivermectin();
  reappearance.outcome = ReappearanceOutcome::ends_too_early;
  reappearance.chances.pop_back();
  reappearance.first_day_back.reset();
  reappearance.shorter_at_most.reset();
  CHECK_THAT(all(reappearance), Catch::StartsWith("No visit up to week 4 had a fall below 90%."));
  CHECK_THAT(all(reappearance),
             Catch::Contains("The visits end too early to tell whether it was shorter: one "
                             "in week 5 or later would tell."));
  reappearance.chances.clear();
  CHECK_THAT(all(reappearance), Catch::StartsWith("No visit is later than the test's own sample"));
  VisitCourse course;
  course.reappearance = reappearance;
  CHECK(plain_reappearance(course).empty());
  CHECK(plain_reappearance({}).empty());
}

TEST_CASE("A drench that was not shown to work at first is taken for granted in words") {
  CHECK_THAT(all(ivermectin(), VerdictClass::inconclusive),
             Catch::Contains("that the drench worked at first, which the test has not shown "
                             "(inconclusive)"));
  EggReappearance none;
  none.why_not = "the period is one of strongyles, and these are ascarids";
  CHECK(all(none) == "When eggs came back was not worked out: the period is one of strongyles, and "
                     "these are ascarids.");
}

TEST_CASE("The table of visits fits the screen and tells who is missing") {
  VisitFall last = visit(400);
  last.missing = 2;
  last.without_before = 1;
  last.mean_before = 123456;
  last.interval.lower = -9.999;
  const std::string table = visits_table({visit(14, true), last});
  std::istringstream lines(table);
  for (std::string line; std::getline(lines, line);) {
    CHECK(character_count(line) <= 80);
    CHECK_FALSE(line.ends_with(' '));
  }
  CHECK_THAT(table, Catch::Contains("week 2, test"));
  CHECK_THAT(table, Catch::Contains("day 400: 2 not sampled and 1 without a count before"));
  VisitFall without = visit(28);
  without.reduction.reset();
  without.interval = {};
  CHECK_THAT(visits_table({without}), Catch::Contains(" -  none"));
}

TEST_CASE("It is told which sample the test was judged on") {
  GroupAnalysis analysis;
  analysis.course.visits = {visit(14, true), visit(28), visit(42)};
  analysis.evidence.group.day_after = 14;
  CHECK(judged_on_text(analysis) == "judged on the visit of day 14 alone (there are visits on day "
                                    "28 and 42 too)");
  analysis.evidence.group.day_after.reset();
  CHECK_THAT(judged_on_text(analysis), Catch::StartsWith("judged on the samples under eggs_after"));
  analysis.course.visits[0].is_test = false;
  CHECK_THAT(judged_on_text(analysis), Catch::StartsWith("judged on no visit"));
}

TEST_CASE("The finding of the visits is when eggs were back, or the first fall and the last") {
  GroupAnalysis analysis;
  analysis.evidence.group.name = "ivm";
  analysis.course.visits = {visit(14, true), visit(42)};
  analysis.course.visits[1].reduction = 0.5;
  CHECK(visits_finding(analysis) == "ivm: a fall of 99.0% at week 2, of 50.0% at week 6");
  analysis.course.reappearance = ivermectin();
  CHECK(visits_finding(analysis) == "ivm: eggs back between week 4 and week 6");
  analysis.course.reappearance->first_day_back.reset();
  CHECK(visits_finding(analysis) == "ivm: eggs not back up to week 4");
}
