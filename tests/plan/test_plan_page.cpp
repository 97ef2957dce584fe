#include "plan/plan_page.hpp"

#include "formats/drawing/inks.hpp"
#include "plan/chance_figures.hpp"
#include "plan/hundred_tests.hpp"
#include "plan/invented_plan.hpp"
#include "plan/plan_text.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

namespace {

pugi::xml_document parsed(const std::string& page) {
  pugi::xml_document document;
  REQUIRE(document.load_string(page.c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return document;
}

/// Four options, of which 12 animals at 50 EPG an egg ask for least.
Plan four_options() {
  const PlanQuestion asked = question();
  return plan_with({with_power(asked, 6, 50, 1, 90, 62), with_power(asked, 12, 50, 1, 90, 95),
                    with_power(asked, 6, 15, 9, 100, 97), with_power(asked, 12, 15, 9, 100, 99)});
}

/// The cells of the table of sizes by ways of counting.
std::vector<pugi::xml_node> power_cells(const pugi::xml_document& page) {
  std::vector<pugi::xml_node> cells;
  for (const auto& match : page.select_nodes("//table[contains(@class, 'power')]/tbody/tr/td"))
    cells.push_back(match.node());
  return cells;
}

} // namespace

TEST_CASE("A plan's page holds its advice, figures and cautions, and fetches nothing") {
  Plan plan = four_options();
  plan.question.flock.host = "<b>sheep</b>";
  const std::string page = plan_report(plan);
  for (const std::string& sentence : plan_advice(plan))
    CHECK_THAT(page, Catch::Contains("<p>" + sentence + "</p>"));
  CHECK_THAT(page, Catch::Contains("&lt;b&gt;sheep&lt;/b&gt;") && !Catch::Contains("<b>"));
  CHECK_THAT(page, Catch::Contains("Wear gloves and wash hands"));
  CHECK_THAT(page, !Catch::Contains("http-equiv") && !Catch::Contains("<script") &&
                       !Catch::Contains("src="));
  const pugi::xml_document document = parsed(page);
  std::vector<std::string> findings;
  for (const auto& match : document.select_nodes("//figure/p[@class='finding']"))
    findings.emplace_back(match.node().child_value());
  std::vector<std::string> expected;
  for (const CaptionedFigure& figure :
       hundred_tests_figures(shown_option(plan), plan.question.aim, 0))
    expected.push_back(figure.finding);
  for (const CaptionedFigure& figure : chance_figures(plan, 0))
    expected.push_back(figure.finding);
  CHECK(findings == expected);
  // Every sheet of paper says what it is of.
  CHECK_THAT(page, Catch::Contains("@bottom-left") && Catch::Contains("seed 1."));
}

TEST_CASE("The advised option is marked by a word, and every chance by a bar that is drawn") {
  const Plan plan = four_options();
  REQUIRE(recommended(plan) == &plan.all[1]);
  const pugi::xml_document document = parsed(plan_report(plan));
  // By size: 6 and 12 animals, at 50 and 15 EPG an egg.
  const std::vector<std::string> powers{"62", "97", "90", "99"};
  const auto cells = power_cells(document);
  REQUIRE(cells.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    CHECK(cells[i].child_value() == powers[i]);
    const bool advised = i == 2;
    CHECK(cells[i].attribute("class").value() == std::string(advised ? "advised" : ""));
    CHECK(cells[i].child("span").child_value() == std::string(advised ? "take this" : ""));
    // The second box of the drawing is the bar: filled if it reaches the 80 wanted. Its two edges,
    // half a unit each, are not part of its width.
    const pugi::xml_node bar = cells[i].select_node("svg/rect[2]").node();
    CHECK(bar.attribute("width").as_double() == Approx(std::stod(powers[i])).margin(1));
    CHECK(bar.attribute("fill").value() == ink_property(i == 0 ? paper_colour : deep_colour));
  }
  const std::string page = plan_report(plan);
  CHECK_THAT(page, Catch::Contains(">12, advised<"));
}

TEST_CASE("A plan that cannot answer advises no option, and shows how far the best comes") {
  const PlanQuestion asked = question();
  Plan plan = plan_with({with_power(asked, 6, 50, 1, 9, 35), with_power(asked, 12, 50, 1, 11, 40)});
  REQUIRE(recommended(plan) == nullptr);
  const std::string page = plan_report(plan);
  CHECK_THAT(page, Catch::Contains("cannot answer the question today"));
  CHECK_THAT(page, Catch::Contains("<p class=\"lead\">Even the best of these designs: 12 animals a "
                                   "group (paired), one egg for 50 EPG.</p>"));
  CHECK_THAT(page, Catch::Contains("(it truly removes 99.5%): 11 say so."));
  CHECK_THAT(page, !Catch::Contains("take this") && !Catch::Contains(", advised"));
}
