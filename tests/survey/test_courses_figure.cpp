#include "survey/courses_figure.hpp"

#include "formats/drawing/inks.hpp"
#include "support/support.hpp"
#include "support/surveyed_region.hpp"
#include "survey/course_words.hpp"

#include <pugixml.hpp>

#include <string>

using namespace eggfall;

namespace {

FarmCourse course(const std::string& farm, CourseWord word) {
  FarmCourse result;
  result.key = {farm, "ivermectin", "sheep", ""};
  result.word = word;
  CourseTest test;
  test.trial_number = 1;
  test.year = 2030;
  test.reduction = 0.99;
  test.lower = 0.96;
  test.upper = 0.998;
  test.standing = VerdictClass::susceptible;
  result.tests.push_back(test);
  test.year = 2033;
  test.day = "2033-07-01";
  test.reduction = 0.8;
  test.lower = 0.7;
  test.upper = 0.9;
  test.standing = VerdictClass::resistant;
  result.tests.push_back(test);
  return result;
}

std::size_t zones(const CaptionedFigure& figure) {
  pugi::xml_document svg;
  REQUIRE(svg.load_string(figure.svg.c_str()));
  return svg.select_nodes(("//rect[@fill='" + std::string(zone_colour) + "']").c_str()).size();
}

} // namespace

TEST_CASE("Courses are drawn worst first, and each says its word to who cannot see it") {
  const std::vector<FarmCourse> courses{
      course("A", CourseWord::holding), course("B", CourseWord::slipping),
      course("C", CourseWord::too_little_to_tell), course("D", CourseWord::lost),
      course("E", CourseWord::slipping)};
  const auto sorted = courses_by_need(courses);
  std::string order;
  for (const FarmCourse* const each : sorted)
    order += each->key.farm;
  CHECK(order == "DBECA");
  const auto figures = courses_figures(sorted, {}, {});
  REQUIRE(figures.size() == 5);
  CHECK(figures[0].finding == "D, ivermectin");
  CHECK(figures[3].finding == "C, ivermectin");
  for (std::size_t i = 0; i < figures.size(); ++i) {
    INFO(figures[i].svg.substr(0, 400));
    CHECK(figures[i].svg.find(course_name(sorted[i]->key) + ": " +
                              std::string(to_string(sorted[i]->word))) != std::string::npos);
  }
}

TEST_CASE("A lower fall stands lower, a later test further right, on axes that all share") {
  std::vector<FarmCourse> courses{course("A", CourseWord::lost), course("B", CourseWord::lost)};
  courses[1].tests[1].reduction = 0.5;
  courses[1].tests[1].lower = 0.1;
  const auto figures = courses_figures(courses_by_need(courses), {}, {});
  double first_height = 0;
  for (const CaptionedFigure& figure : figures) {
    pugi::xml_document svg;
    REQUIRE(svg.load_string(figure.svg.c_str()));
    const pugi::xml_node tests = svg.select_node("//g[@class='tests']").node();
    const pugi::xml_node disc = tests.child("circle");
    const pugi::xml_node square = tests.child("rect");
    REQUIRE(disc);
    REQUIRE(square);
    CHECK(square.attribute("y").as_double() > disc.attribute("cy").as_double());
    CHECK(square.attribute("x").as_double() > disc.attribute("cx").as_double());
    if (first_height == 0)
      first_height = disc.attribute("cy").as_double();
    CHECK(disc.attribute("cy").as_double() == first_height);
  }
}

TEST_CASE("Thresholds are drawn where the rows tell the class, and alone there") {
  const SurveyedRegion region = surveyed_region(3);
  FarmCourse known = course("A", CourseWord::lost);
  for (CourseTest& test : known.tests)
    test.group = region.rows[0].group.name;
  const std::vector<FarmCourse> courses{known};
  const Criteria& criteria = region.survey.settings.criteria;
  CHECK(zones(courses_figures(courses_by_need(courses), region.rows, criteria)[0]) == 1);
  CHECK(zones(courses_figures(courses_by_need(courses), {}, criteria)[0]) == 0);
}

TEST_CASE("A test that takes no part is on no line of the course") {
  FarmCourse flawed = course("A", CourseWord::too_little_to_tell);
  flawed.tests[1].left_out = "day";
  const std::vector<FarmCourse> courses{flawed};
  const auto figures = courses_figures(courses_by_need(courses), {}, {});
  pugi::xml_document svg;
  REQUIRE(svg.load_string(figures[0].svg.c_str()));
  const std::string line =
      svg.select_node("//g[@class='tests']/path").node().attribute("d").value();
  CHECK(line.find('L') == std::string::npos);
}
