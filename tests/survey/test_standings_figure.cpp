#include "survey/standings_figure.hpp"

#include "eggfall/survey/survey_summary.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cmath>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

Breakdown by_class() {
  // Susceptible, low resistant, resistant, suspected, inconclusive, not applicable.
  return {
      {SurveyField::drug_class},
      {{{"BZ"}, {3, 1, 2, 0, 2, 1}}, {{"LV"}, {6, 0, 0, 0, 2, 0}}, {{"ML"}, {0, 0, 0, 0, 0, 4}}}};
}

Breakdown many_farms(std::size_t farms) {
  Breakdown breakdown{{SurveyField::farm}, {}};
  for (std::size_t farm = 1; farm <= farms; ++farm)
    breakdown.strata[{std::to_string(1'000 + farm)}] = {farm, 0, farm % 3, 0, 0, 0};
  return breakdown;
}

std::vector<pugi::xml_node> strata_of(const pugi::xml_document& svg) {
  std::vector<pugi::xml_node> strata;
  for (const pugi::xpath_node node : svg.select_nodes("//g[@class='stratum']"))
    strata.push_back(node.node());
  return strata;
}

} // namespace

TEST_CASE("Parts of a bar are as wide as their shares of the groups with a class") {
  const auto figures = standings_figures(by_class(), Rule::two_one_sided);
  REQUIRE(figures.size() == 1);
  pugi::xml_document svg;
  REQUIRE(svg.load_string(figures[0].svg.c_str()));
  const auto strata = strata_of(svg);
  REQUIRE(strata.size() == 3);
  std::vector<double> widths;
  double whole = 0;
  for (const pugi::xml_node box : strata[0].children("rect")) {
    widths.push_back(box.attribute("width").as_double());
    whole += widths.back();
  }
  REQUIRE(widths.size() == 4); // resistant, low resistant, open, susceptible
  const std::vector<double> groups{2, 1, 2, 3};
  for (std::size_t i = 0; i < groups.size(); ++i)
    CHECK(std::abs(widths[i] / whole - groups[i] / 8) <
          support::read_from_picture); // two decimals of some 300 units
  // What has no class has no part; where nothing has, the bar is a dashed outline.
  CHECK(std::string(strata[0].child("text").next_sibling("text").child_value()) ==
        "3 of 8 resistant; 1 no class");
  CHECK(std::string(strata[2].child("rect").attribute("stroke-dasharray").value()) == "3 3");
  CHECK(std::string(strata[2].child("text").next_sibling("text").child_value()) ==
        "4 tested, no class");
}

TEST_CASE("The limits below a bar are those of the share, on the bar's own scale") {
  // R 4.2.2: qbeta(c(0.025, 0.975), 3.5, 5.5) is 0.119 and 0.705.
  const auto figures = standings_figures(by_class(), Rule::two_one_sided);
  pugi::xml_document svg;
  REQUIRE(svg.load_string(figures[0].svg.c_str()));
  const pugi::xml_node stratum = strata_of(svg)[0];
  double left = 1e9;
  double right = 0;
  for (const pugi::xml_node box : stratum.children("rect")) {
    left = std::min(left, box.attribute("x").as_double());
    right = std::max(right, box.attribute("x").as_double() + box.attribute("width").as_double());
  }
  const auto share = [&](double x) { return (x - left) / (right - left); };
  CHECK(std::abs(share(stratum.child("circle").attribute("cx").as_double()) - 0.375) <
        support::read_from_picture);
  std::string bar; // of the paths the one that is no hatching
  for (const pugi::xml_node path : stratum.children("path"))
    if (std::string_view(path.attribute("class").value()).empty())
      bar = path.attribute("d").value();
  REQUIRE(!bar.empty());
  CHECK(std::abs(share(std::stod(bar.substr(1))) - 0.119) < support::read_from_picture);
  CHECK(std::abs(share(std::stod(bar.substr(bar.find('H') + 1))) - 0.705) <
        support::read_from_picture);
}

TEST_CASE("Of many strata those with most groups are drawn, some to a figure") {
  CHECK(drawn_strata(many_farms(30)).size() == 30);
  const Breakdown many = many_farms(200);
  const auto drawn = drawn_strata(many);
  REQUIRE(drawn.size() == most_strata_drawn);
  CHECK(std::is_sorted(drawn.begin(), drawn.end()));
  CHECK(std::find(drawn.begin(), drawn.end(), Stratum{"1200"}) != drawn.end());
  CHECK(std::find(drawn.begin(), drawn.end(), Stratum{"1001"}) == drawn.end());
  CHECK(standings_figures(many, Rule::two_one_sided).size() == 2);
}

TEST_CASE("A breakdown names two strata only if their limits are apart") {
  Breakdown breakdown{{SurveyField::drug_class},
                      {{{"BZ"}, {2, 0, 8, 0, 0, 0}}, {{"LV"}, {8, 0, 2, 0, 0, 0}}}};
  // R 4.2.2 at the level 0.975 of two strata: qbeta(0.0125, 8.5, 2.5) is 0.453, and
  // qbeta(0.9875, 2.5, 8.5) is 0.547, which overlap; of 40 and 10 of 50 each they do not.
  CHECK_FALSE(surely_apart(breakdown));
  CHECK(breakdown_finding(breakdown) == "Chance alone may make these differences");
  breakdown.strata[{"BZ"}] = {10, 0, 40, 0, 0, 0};
  breakdown.strata[{"LV"}] = {40, 0, 10, 0, 0, 0};
  const auto apart = surely_apart(breakdown);
  REQUIRE(apart);
  CHECK(apart->first == Stratum{"BZ"});
  CHECK(apart->second == Stratum{"LV"});
  // qbeta(c(0.025, 0.975), 40.5, 10.5) is 0.674 and 0.892.
  CHECK_THAT(breakdown_finding(breakdown),
             Catch::StartsWith("Resistance was found more often in BZ (80 of 100, 67 to 89) than"));
  CHECK_FALSE(surely_apart({{SurveyField::host}, {}}));
  CHECK(breakdown_finding({{SurveyField::host}, {{{"sheep"}, {1, 0, 0, 0, 0, 0}}}}) ==
        "All are sheep");
}
