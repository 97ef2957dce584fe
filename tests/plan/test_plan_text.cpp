#include "plan/plan_text.hpp"

#include "base/text.hpp"
#include "plan/invented_plan.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <functional>
#include <sstream>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

TEST_CASE("A plan fits 80 columns, and its CSV holds what it shows") {
  PlanQuestion asked = question();
  asked.choices.group_sizes = {6};
  Plan plan = plan_with({with_power(asked, 6, 50, 1.5, 99, 81)});
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
  PlannedFlock horses;
  horses.host = "horses";
  plan.published = published_minima(published_cut_offs(), horses);
  CHECK_THAT(flowing(plan_text(plan, Verbosity::brief)),
             Catch::Contains("To stand beside this: 40 eggs counted an animal are asked for (AAEP "
                             "Internal Parasite Control Guidelines 2024, p. 14; published)."));
  const std::string csv = plan_csv(plan);
  CHECK_THAT(csv, Catch::Contains("paired,6,50,6,12,12,18,,BZ,waavp-2023-clinical,80.000000,100,"
                                  "0.000000,40.000000,41.000000,0.000000,0.000000,0.000000,"
                                  "81.000000\r\n"));
}

TEST_CASE("A plan's table has the group's eggs, both calls, and the rarer right answer") {
  const Plan plan = plan_with({with_power(question(), 6, 50, 1.5, 99, 81)});
  const std::string text = plan_text(plan, Verbosity::brief);
  // 6 animals of 12 eggs: 72; of 100 tests at 99.5%, 95% and 80%; the rarer, 81; 12 samples at 1.5.
  CHECK_THAT(text, Catch::Contains("       6     72    99/0    99/0    0/81    81     18\n"));
  CHECK_THAT(text, !Catch::Contains("hours") && !Catch::Contains("Every chance"));
  // The Monte Carlo error of 99 of 100: sqrt(99.5/101 x 1.5/101 / 101) is 1.2 of 100.
  CHECK_THAT(plan_text(plan, Verbosity::full), Catch::Contains("99.0 (1.2)"));
}

TEST_CASE("Options that differ in size alone stand together, in their order") {
  const PlanQuestion asked = question();
  const Plan plan =
      plan_with({with_power(asked, 6, 50, 1, 90, 70), with_power(asked, 12, 50, 1, 95, 80),
                 with_power(asked, 6, 15, 2, 95, 80)});
  const auto runs = alike_but_for_size(plan);
  REQUIRE(runs.size() == 2);
  CHECK(runs[0] == std::vector<const PlannedOption*>{&plan.all[0], &plan.all[1]});
  CHECK(runs[1] == std::vector<const PlannedOption*>{&plan.all[2]});
  CHECK(group_sizes(plan) == std::vector<std::size_t>{6, 12});
  CHECK(alike_but_for_size(plan_with({})).empty());
  CHECK(in_words(plan.all[1].option) == "12 animals a group (paired), one egg for 50 EPG");
}

TEST_CASE("A table shows at most six efficacies, of which the highest and the lowest stay") {
  Plan plan = plan_with({});
  const AuditCriterion& criterion = plan.question.aim.criteria.front();
  plan.question.aim.efficacies = {0.99, 0.98, 0.97, 0.95, 0.90, 0.85};
  const std::vector<double> shown = shown_efficacies(plan, criterion);
  REQUIRE(shown.size() == 6);
  CHECK_THAT(shown.front(), support::close_to(0.995));
  CHECK_THAT(shown.back(), support::close_to(0.80));
  CHECK(std::ranges::is_sorted(shown, std::ranges::greater()));
  // Those that another criterion alone needs are not among them.
  AuditCriterion other = criterion;
  other.cut_off.expected = 0.999;
  plan.question.aim.efficacies = {0.95};
  plan.question.aim.criteria.push_back(other);
  CHECK(shown_efficacies(plan, plan.question.aim.criteria.front()).size() == 3);
}

TEST_CASE("Notes on a plan own up to cut-offs written down from memory") {
  Plan plan = plan_with({});
  plan.question.aim.criteria.front().cut_off.citation.provenance = Provenance::memory;
  const std::vector<std::string> notes = plan_notes(plan);
  plan.question.aim.criteria.front().cut_off.citation.provenance = Provenance::published;
  CHECK(plan_notes(plan).size() + 1 == notes.size());
  CHECK_THAT(notes.back(), Catch::Contains(plan.question.aim.criteria.front().title));
  // The error of a half in 100 trials is 1/(2 x 10).
  CHECK_THAT(notes[1], Catch::Contains("at most 5.0 of 100"));
}

TEST_CASE("A plan says what it takes for granted of the season, and who asks for more animals") {
  const PlanQuestion asked = question();
  Plan plan = plan_with({with_power(asked, 6, 50, 1.5, 99, 81)});
  plan.published = published_minima(published_cut_offs(), plan.question.flock);
  const auto advice = [&] { return fmt::format("{}", fmt::join(plan_advice(plan), " ")); };
  const std::string untreated =
      ": without them a change of season would pass for the drench's work";
  // Ten animals, twice.
  CHECK_THAT(advice(),
             Catch::Contains("Plus ten untreated animals, sampled on the same days, which adds "
                             "20 samples"));
  CHECK_THAT(advice(),
             Catch::Contains(untreated + ", and these chances assume that there is none.") &&
                 Catch::Contains("WAAVP 1992 asks for at least 10 animals a group: with fewer the "
                                 "analysis will say so"));
  plan.question.flock.season_change = 0.5;
  CHECK_THAT(advice(), Catch::Contains(untreated + "."));
  plan.all.front().needs.animals = 6;
  plan.question.flock.animals = 16;
  CHECK_THAT(advice(), !Catch::Contains("animals, and there are"));
  plan.question.flock.animals = 12;
  CHECK_THAT(advice(), Catch::Contains("That is 16 animals, and there are 12: leave the 6 that "
                                       "remain untreated, and expect less of them."));
  plan.question.flock.animals = 6;
  CHECK_THAT(advice(), Catch::Contains("none would remain untreated, so that this test could not "
                                       "tell the drench from the season."));
  plan.all.front().option.design = Design::controlled;
  plan.all.front().option.group_size = 10;
  CHECK_THAT(advice(), !Catch::Contains("Plus ten untreated") &&
                           !Catch::Contains("asks for at least 10 animals a group: with fewer"));
}

TEST_CASE(
    "What a plan makes of a drench that fails but is not dead is told where it was simulated") {
  Plan plan = plan_with({with_power(question(), 12, 50, 1.5, 99, 81)});
  const auto advice = [&] { return fmt::format("{}", fmt::join(plan_advice(plan), " ")); };
  CHECK_THAT(advice(), !Catch::Contains("susceptible (wrong)"));
  PlanOutcome failing = plan.all.front().outcomes.back();
  failing.efficacy = 0.9;
  VerdictTally classes{};
  classes[static_cast<std::size_t>(VerdictClass::susceptible)] = 3;
  classes[static_cast<std::size_t>(VerdictClass::resistant)] = 31;
  failing.tally.methods.front().verdicts = {classes};
  plan.all.front().outcomes.push_back(failing);
  CHECK_THAT(advice(),
             Catch::Contains("of 100 such tests of one that truly removes 90%, 31 call it "
                             "resistant, 3 susceptible (wrong), and 66 give no clear "
                             "answer."));
}
