#include "teach/students/student_words.hpp"

#include "formats/drawing/html_page.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("class words: host and drench are named as far as they are known") {
  Scenario scenario;
  CHECK(host_words(scenario) == "animals");
  scenario.host = "goats";
  CHECK(host_words(scenario) == "goats");
  ScenarioGroup group;
  group.name = "white";
  CHECK(drench_words(group) == "white");
  group.classes = {DrugClass::bz, DrugClass::lv};
  CHECK(drench_words(group) == "white (BZ+LV)");
  group.drench = "white drench";
  CHECK(drench_words(group) == "white drench (BZ+LV)");
  group.classes.clear();
  CHECK(drench_words(group) == "white drench");
}

TEST_CASE("class words: numbers are written as one would on paper") {
  CHECK(written(16.583333) == "16.58");
  CHECK(written(0.00123456) == "0.001235");
  CHECK(written(12) == "12");
  CHECK(written(0) == "0");
  CHECK(percent_written(0.93) == "93.0%");
  CHECK(percent_written(1) == "100.0%");
  CHECK(percent_written(-0.1234) == "-12.3%");
}

TEST_CASE("class words: limits and classes that do not exist are said not to") {
  Interval interval;
  interval.lower = 0.881;
  interval.upper = 0.975;
  CHECK(limits_written(interval) == "88.1% to 97.5%");
  interval.lower.reset();
  CHECK(limits_written(interval) == "no limits");
  Verdict verdict;
  CHECK(verdict_written(verdict) == "none"); // a criterion that could give no class
  verdict.verdict_class = VerdictClass::low_resistant;
  CHECK(verdict_written(verdict) == "low resistant");
  verdict.verdict_class = VerdictClass::inconclusive;
  CHECK(verdict_written(verdict) == "inconclusive");
}

TEST_CASE("class words: cells that tell of a miss stand out, and no others") {
  pugi::xml_document page;
  const pugi::xml_node table = add_table(
      page.append_child("body"), {"", {"Sheet", "By hand"}, {{"1", "holds"}, {"2", "misses"}}});
  mark_misses(table);
  const auto marked = page.select_nodes("//td[@class='miss']");
  REQUIRE(marked.size() == 1);
  CHECK(std::string(marked[0].node().text().get()) == "misses");
}
