#include "plan/chance_figures.hpp"

#include "formats/drawing/inks.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "plan/invented_plan.hpp"
#include "plan/plan_text.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_plan;

namespace {

pugi::xml_document parsed(const std::string& svg) {
  pugi::xml_document document;
  REQUIRE(document.load_string(svg.c_str()));
  return document;
}

std::vector<double> values(const pugi::xml_document& document, const std::string& path) {
  std::vector<double> found;
  for (const auto& match : document.select_nodes(path.c_str()))
    found.push_back(match.attribute().as_double());
  return found;
}

/// Two ways of counting, two sizes of each: the advised one is 12 animals at 50.
Plan four_options() {
  const PlanQuestion asked = question();
  return plan_with({with_power(asked, 6, 50, 1, 90, 62), with_power(asked, 12, 50, 1, 90, 95),
                    with_power(asked, 6, 15, 9, 100, 70), with_power(asked, 12, 15, 9, 100, 99)});
}

} // namespace

TEST_CASE("There is a figure a way of counting, whose title says which sizes will do") {
  const Plan plan = four_options();
  const auto figures = chance_figures(plan, 0);
  REQUIRE(figures.size() == 2);
  CHECK(figures[0].finding == "Paired, one egg for 50 EPG: 80 right answers of 100 both ways are "
                              "reached from 12 animals a group.");
  const Plan weak = plan_with({with_power(question(), 6, 50, 1, 90, 62)});
  CHECK(chance_figures(weak, 0).front().finding ==
        "Paired, one egg for 50 EPG: none of these group sizes reaches 80 right answers of 100 "
        "both ways.");
}

TEST_CASE("The lines of the option shown are thick and named, all others grey") {
  const Plan plan = four_options();
  REQUIRE(shown_option(plan).option.group_size == 12);
  const auto figures = chance_figures(plan, 0);
  const auto first = parsed(figures[0].svg);
  CHECK(first.select_nodes("//g[@class='chosen']").size() == 1);
  CHECK(first.select_nodes("//g[@class='other']").size() == 1);
  for (const auto& line : first.select_nodes("//g[@class='other']/line"))
    CHECK(line.node().attribute("stroke").value() == line_colour);
  for (const auto& line : first.select_nodes("//g[@class='chosen']/line")) {
    CHECK(line.node().attribute("stroke").value() == deep_colour);
    CHECK(line.node().attribute("stroke-width").as_double() > 2);
  }
  // Resistant is dashed, susceptible is not: two pieces of line between three efficacies of each.
  CHECK(first.select_nodes("//g[@class='chosen']/line[@stroke-dasharray]").size() == 2);
  CHECK(first.select_nodes("//g[@class='chosen']/line[not(@stroke-dasharray)]").size() == 2);
  CHECK(first.select_nodes("//text[.='12 animals']").size() == 1);
  CHECK(first.select_nodes("//text[.='6']").size() == 2);
  // It is not of the other way of counting.
  const auto second = parsed(figures[1].svg);
  CHECK(second.select_nodes("//g[@class='chosen']").empty());
  CHECK(second.select_nodes("//g[@class='other']").size() == 2);
  // Both have one axis.
  CHECK(values(first, "//g[@class='grid']/line/@x2") ==
        values(second, "//g[@class='grid']/line/@x2"));
}

TEST_CASE("A line is as high as its chance") {
  const auto document = parsed(chance_figures(four_options(), 0).front().svg);
  // Dots of the chosen, dashed line first: resistant 95, 0 and 0 of 100 (by rising efficacy),
  // susceptible 0, 90 and 90.
  const auto y = values(document, "//g[@class='chosen']/circle/@cy");
  REQUIRE(y.size() == 6);
  const double height = (y[1] - y[0]) / 0.95;
  CHECK(y[1] == y[2]);
  CHECK(y[3] == y[1]);
  CHECK(y[4] == Approx(y[1] - 0.9 * height).margin(0.02)); // two decimals are printed
  CHECK(y[5] == y[4]);
}

TEST_CASE("Numbers at lines that end at one place do not lie on each other") {
  const PlanQuestion asked = question();
  for (const std::size_t sizes : {6, 40}) {
    CAPTURE(sizes);
    std::vector<PlannedOption> all;
    for (std::size_t i = 0; i < sizes; ++i)
      all.push_back(with_power(asked, 6 + i, 50, 1, 99, 99));
    const Plan plan = plan_with(all);
    const auto document = parsed(chance_figures(plan, 0).front().svg);
    const double bottom = std::ranges::max(values(document, "//g[@class='grid']/line/@y2"));
    for (const char* anchor : {"/svg/text[@text-anchor='end' and number(.) = number(.)]/@y",
                               "/svg/text[not(@text-anchor) and starts-with(translate(., "
                               "'123456789', '000000000'), '0')]/@y"}) {
      std::vector<double> y = values(document, anchor);
      CHECK(y.size() == (sizes == 6 ? sizes : 2)); // 6 animals, which are shown, and 45
      std::ranges::sort(y);
      for (std::size_t i = 1; i < y.size(); ++i)
        CHECK(y[i] - y[i - 1] >= text_size - 0.01);
      CHECK(y.back() < bottom + 1); // the labels of the axis stand below
    }
  }
}

TEST_CASE("No text of a figure is cut off or smaller than it may be") {
  PlanQuestion asked = question();
  const Plan plan =
      plan_with({with_power(asked, 6, 50, 1, 99, 99), with_power(asked, 1'000, 50, 1, 99, 99)});
  const auto document = parsed(chance_figures(plan, 0).front().svg);
  for (const auto& match : document.select_nodes("//text")) {
    const pugi::xml_node text = match.node();
    CAPTURE(text.child_value());
    const double x = text.attribute("x").as_double();
    const double size = text.attribute("font-size").as_double();
    const double width = text_units(text.child_value(), size);
    const std::string anchor = text.attribute("text-anchor").as_string("start");
    const double left = anchor == "start" ? x : anchor == "end" ? x - width : x - width / 2;
    CHECK(size >= small_size);
    CHECK(left >= 0);
    CHECK(left + width <= NarrowFigure::full_width);
  }
}
