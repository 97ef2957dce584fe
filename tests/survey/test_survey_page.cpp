#include "survey/survey_page.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"
#include "support/surveyed_region.hpp"
#include "survey/survey_words.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <algorithm>
#include <string>
#include <vector>

using namespace eggfall;
using support::words_of;

namespace {

pugi::xml_document loaded(const std::string& page) {
  pugi::xml_document document;
  REQUIRE(document.load_string(page.c_str(), pugi::parse_full));
  return document;
}

pugi::xml_document page_of(const SurveyedRegion& region) {
  return loaded(survey_page(region.survey, region.rows, {}));
}

std::string said(const pugi::xml_document& page) {
  return flowing(words_of(page.select_node("//main").node()));
}

/// The cells of the table with a caption that begins so, row by row.
std::vector<std::vector<std::string>> cells_of(const pugi::xml_document& page,
                                               const std::string& caption) {
  std::vector<std::vector<std::string>> rows;
  const auto table =
      page.select_node(("//table[starts-with(caption, '" + caption + "')]").c_str()).node();
  CAPTURE(caption);
  REQUIRE(table);
  for (const pugi::xml_node tr : table.child("tbody").children("tr")) {
    rows.emplace_back();
    for (const pugi::xml_node cell : tr.children())
      rows.back().push_back(cell.child_value());
  }
  return rows;
}

FarmCourse course(int number, CourseWord word) {
  FarmCourse result;
  result.key = {fmt::format("Farm {}", number), "levamisole", "", ""};
  result.word = word;
  CourseTest test;
  test.year = 2030;
  test.reduction = 0.991;
  test.lower = 0.97;
  test.upper = 0.998;
  result.tests.push_back(test);
  test.year = 2031;
  test.since_first = test.since_last = EfficacyDrop{0.76, 0.31};
  result.tests.push_back(test);
  return result;
}

} // namespace

TEST_CASE("The numbers on a survey's page are those of the survey") {
  const SurveyedRegion region = surveyed_region(60);
  const pugi::xml_document page = page_of(region);
  for (const Breakdown& breakdown : region.survey.breakdowns) {
    if (breakdown.strata.size() < 2)
      continue;
    const auto rows = cells_of(page, capitalised(breakdown_name(breakdown.fields)));
    REQUIRE(rows.size() == breakdown.strata.size());
    std::size_t r = 0;
    for (const auto& [stratum, tally] : breakdown.strata) {
      const StratumSummary summary = summarise(tally);
      const auto count_of = [&](VerdictClass v) { return tally[static_cast<std::size_t>(v)]; };
      CHECK(rows[r] ==
            std::vector<std::string>{stratum_name(stratum), fmt::format("{}", summary.tested),
                                     fmt::format("{}", count_of(VerdictClass::susceptible)),
                                     fmt::format("{}", count_of(VerdictClass::low_resistant)),
                                     fmt::format("{}", count_of(VerdictClass::resistant)),
                                     fmt::format("{}", count_of(VerdictClass::inconclusive)),
                                     fmt::format("{}", count_of(VerdictClass::not_applicable)),
                                     fmt::format("{:.0f}", 100 * *summary.resistant.value),
                                     fmt::format("{:.0f} to {:.0f}", 100 * *summary.resistant.lower,
                                                 100 * *summary.resistant.upper),
                                     fmt::format("{:.0f}", 100 * *summary.at_most.value)});
      ++r;
    }
  }
  const auto groups = cells_of(page, "The groups, by class");
  REQUIRE(groups.size() == region.rows.size());
  for (const SurveyRow& row : region.rows)
    CHECK(std::ranges::count_if(groups, [&](const std::vector<std::string>& cells) {
            return cells[0] == row.trial + ": " + row.group.name &&
                   std::ranges::find(cells, percent(*row.reduction)) != cells.end() &&
                   std::ranges::find(cells, std::string(to_string(row.standing.verdict_class))) !=
                       cells.end();
          }) == 1);
}

TEST_CASE("The headline says what is in doubt before what fails, and that before what works") {
  SurveyedRegion region = surveyed_region(0);
  region.survey.all.strata[{}] = {4, 1, 2, 0, 3, 5};
  region.survey.surveyed = {4, 15, 150, 0};
  const std::string text = said(loaded(survey_page(region.survey, {}, {})));
  CHECK_THAT(text, Catch::StartsWith("15 drench tests: 5 could not be judged, 3 leave it open, 3 "
                                     "found resistance and 4 met the rule on the day"));
  // 3 of the 10 with a class; R 4.2.2: qbeta(c(0.025, 0.975), 3.5, 7.5) is 0.093 and 0.606.
  CHECK_THAT(text,
             Catch::Contains("Of 100 groups with a class 30 are resistant or low resistant "
                             "(95% limits 9 to 61), and 60 would be if every open one were."));
  CHECK_THAT(text, Catch::Contains("no random sample"));
}

TEST_CASE(
    "A page shows none, a few, and a thousand groups one by one, each figure with its table") {
  for (const std::size_t groups : {1, 10, 100, 1'000}) {
    CAPTURE(groups);
    const pugi::xml_document page = page_of(surveyed_region(groups));
    CHECK(page.select_nodes("//h1").size() == 1);
    CHECK(cells_of(page, "The groups, by class").size() == groups);
    CHECK(page.select_nodes("//div[@class='side-by-side falls']/figure").size() >= 1);
    // Below each row of figures comes a table, perhaps to be opened, before the next row.
    for (const auto& row : page.select_nodes("//div[contains(@class, 'side-by-side')]")) {
      const pugi::xml_node next = row.node().next_sibling();
      const std::string name = next.name();
      CHECK((name == "details" || next.child("table")));
    }
    const auto opened = page.select_nodes("//details//table[starts-with(caption, 'The groups')]");
    CHECK(opened.size() == (groups > 40 ? 1 : 0));
  }
  const std::string none = said(page_of(surveyed_region(0)));
  CHECK_THAT(none, Catch::StartsWith("No drench was tested"));
  CHECK_THAT(none, Catch::Contains("How it was judged"));
}

TEST_CASE("Without its rows a page says so, and how to get them") {
  SurveyedRegion region = surveyed_region(2'000);
  const pugi::xml_document page = loaded(survey_page(region.survey, {}, {}));
  CHECK_THAT(said(page),
             Catch::Contains("The 2000 groups of this survey are not shown one by one"));
  CHECK_THAT(said(page), Catch::Contains("CSV of groups"));
  CHECK(page.select_nodes("//div[@class='side-by-side falls']").empty());
  CHECK(page.select_nodes("//div[@class='side-by-side']/figure").size() >= 3);
  region.rows.pop_back();
  CHECK_THROWS_AS(survey_page(region.survey, region.rows, {}), CalculationError);
  region.survey.shard = {1, 2};
  CHECK_THROWS_AS(survey_page(region.survey, {}, {}), CalculationError);
}

TEST_CASE(
    "Years of farms stand on the page, the worst first, and those beyond forty in its table") {
  SurveyedRegion region = surveyed_region(10);
  for (int i = 0; i < 60; ++i)
    region.survey.courses.push_back(
        course(100 + i, i < 50 ? CourseWord::holding : CourseWord::slipping));
  const pugi::xml_document page = page_of(region);
  const auto figures = page.select_nodes("//div[@class='years']/figure");
  REQUIRE(figures.size() == 40);
  CHECK_THAT(std::string(figures[0].node().child("p").child_value()),
             Catch::Equals("Farm 150, levamisole"));
  CHECK_FALSE(page.select_nodes("//h3[.='Slipping: 10']").empty());
  const auto farms = cells_of(page, "What has become of each farm");
  REQUIRE(farms.size() == 60);
  CHECK(farms[0] == std::vector<std::string>{"Farm 100", "holding (99.1% in 2031)"});
  CHECK_THAT(said(page), Catch::Contains("Drawn are 40 of them, the worst first"));
  const auto rows = cells_of(page, "Chances of a drop");
  REQUIRE(rows.size() == 60);
  CHECK(rows[0] == std::vector<std::string>{"Farm 150, levamisole", "slipping", "2, 2030 to 2031",
                                            "99.1% to 99.1%", "76", "31", "76", "31"});
  CHECK(cells_of(page, "Every test of the farms").size() == 120);
}

TEST_CASE("Names on a survey's page are text, whatever they are") {
  SurveyedRegion region = surveyed_region(10);
  const std::string evil = "<script>alert(\"1\")</script> & 'x'";
  for (SurveyRow& row : region.rows) {
    row.trial = row.group.name = row.group.farm = evil;
    row.reason = evil;
  }
  region.survey.breakdowns[0].strata[{evil}] = {1, 0, 0, 0, 0, 0};
  region.survey.tables = {{evil, "1"}};
  region.survey.settings.criteria.title = evil;
  region.survey.courses = {course(1, CourseWord::lost)};
  region.survey.courses[0].key.farm = evil;
  const std::string text = survey_page(region.survey, region.rows, {});
  CHECK(text.find("<script") == std::string::npos);
  const pugi::xml_document page = loaded(text);
  CHECK(page.select_nodes("//script").empty());
  CHECK_THAT(said(page), Catch::Contains(evil));
}

TEST_CASE("The page says how it was judged, with barred groups, cut-offs from memory, cautions") {
  SurveyedRegion region = surveyed_region(10);
  region.survey.barred[static_cast<std::size_t>(BarCode::day)] = 2;
  const pugi::xml_document page = page_of(region);
  const std::string text = said(page);
  CHECK(cells_of(page, "Barred, by the first reason") ==
        std::vector<std::vector<std::string>>{{"day", "2", bar_words(BarCode::day)}});
  CHECK_THAT(text, Catch::Contains(flowing(memory_note(region.survey.settings.criteria))));
  CHECK_THAT(text, Catch::Contains("Wear gloves"));
  CHECK_THAT(text, Catch::Contains("Tables: region.csv."));
}

TEST_CASE("What all farms together tell stands on the page with its table, beside the tally") {
  const SurveyedRegion region = surveyed_region(60);
  RegionPicture picture;
  picture.drug_class = "BZ";
  picture.host = "sheep";
  picture.groups = 20;
  picture.median = {0.91, 0.952, 0.981};
  picture.new_farm = {0.52, 0.952, 0.999};
  picture.below[0] = {0.90, {7.4, 5, 10}, 0.4};
  picture.below[1] = {0.95, {9.6, 7, 12}, 0.5};
  const pugi::xml_document page = loaded(survey_page(region.survey, region.rows, {picture}));
  const VerdictTally& tally = region.survey.breakdowns.front().strata.at({"BZ"});
  REQUIRE(region.survey.breakdowns.front().fields == std::vector{SurveyField::drug_class});
  CHECK(cells_of(page, "All farms together") ==
        std::vector<std::vector<std::string>>{
            {"BZ, sheep", "20", "7 (5 to 10)", "10 (7 to 12)",
             fmt::format("{} of {}", tally[2] + tally[1], summarise(tally).judged),
             "95.2% (91.0% to 98.1%)", "95.2% (52.0% to 99.9%)"}});
  CHECK_THAT(said(page), Catch::Contains("read them as at least"));
  CHECK(said(page_of(region)).find("All farms together") == std::string::npos);
}
