#include "plan/hundred_tests.hpp"

#include "formats/drawing/inks.hpp"
#include "plan/invented_plan.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>

using namespace eggfall;
using namespace invented_plan;

namespace {

struct Signs {
  std::size_t solid = 0;
  std::size_t outlined = 0;
  std::size_t crossed = 0;
};

Signs signs_of(const CaptionedFigure& figure) {
  pugi::xml_document document;
  REQUIRE(document.load_string(figure.svg.c_str()));
  Signs signs;
  for (const auto& box : document.select_nodes("//g[@class='tests']/rect"))
    ++(box.node().attribute("fill").value() == deep_colour ? signs.solid : signs.outlined);
  for (const auto& line : document.select_nodes("//g[@class='tests']/line"))
    if (line.node().attribute("stroke").value() == miss_colour)
      ++signs.crossed;
  signs.crossed /= 2; // two strokes each
  return signs;
}

} // namespace

TEST_CASE("Shares become whole tests, 100 in all") {
  const HundredTests tests = hundred_tests(0.92, 0.013);
  CHECK(tests.right == 92);
  CHECK(tests.misleading == 1);
  CHECK(tests.unclear == 7);
  // Two halves are not 101, whichever is rounded up.
  for (const double right : {0.925, 0.935, 0.005, 0.995, 0.0, 1.0}) {
    CAPTURE(right);
    const HundredTests both = hundred_tests(right, 1 - right);
    CHECK(both.right + both.misleading + both.unclear == 100);
    CHECK(both.unclear <= 1);
  }
}

TEST_CASE("There is a sign for each test, of its own shape, and its number in words") {
  const PlanQuestion asked = question();
  PlannedOption planned = with_power(asked, 12, 50, 1, 92, 85);
  // Of the tests of a failing drench 3 mislead; of a good one none does.
  planned.outcomes.back().tally.methods.front().verdicts.front()[static_cast<std::size_t>(
      VerdictClass::susceptible)] = 3;
  const auto figures = hundred_tests_figures(planned, asked.aim, 0);
  REQUIRE(figures.size() == 2);
  CHECK(figures[0].finding ==
        "100 tests of a drench that works (it truly removes 99.5%): 92 say so.");
  CHECK(figures[1].finding ==
        "100 tests of a drench that fails (it truly removes 80%): 85 say so.");
  const Signs works = signs_of(figures[0]);
  CHECK(works.solid == 92);
  CHECK(works.outlined == 8);
  CHECK(works.crossed == 0);
  const Signs fails = signs_of(figures[1]);
  CHECK(fails.solid == 85);
  CHECK(fails.outlined == 12);
  CHECK(fails.crossed == 3);
  CHECK_THAT(figures[0].svg, Catch::Contains(">92 say so: called susceptible<") &&
                                 Catch::Contains(">8 cannot tell<") &&
                                 Catch::Contains(">fewer than 1 misleads: called resistant<"));
  CHECK_THAT(figures[1].svg, Catch::Contains(">3 mislead: called susceptible<"));
}

TEST_CASE("Whose question it is is told if there are several") {
  PlanQuestion asked = question({DrugClass::bz, DrugClass::ml});
  asked.aim.criteria.push_back(asked.aim.criteria.front());
  asked.aim.classes = {{DrugClass::bz}, {DrugClass::ml}};
  PlannedOption planned = with_power(asked, 12, 50, 1, 100, 100);
  for (PlanOutcome& outcome : planned.outcomes)
    for (MethodTally& tally : outcome.tally.methods)
      tally.verdicts.push_back(tally.verdicts.front());
  CHECK(hundred_tests_figures(planned, asked.aim, 1).front().finding ==
        "100 tests of a drench of ML that works (it truly removes 99.5%): more than 99 say so.");
}
