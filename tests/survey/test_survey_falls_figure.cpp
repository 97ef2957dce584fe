#include "survey/survey_falls_figure.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "support/support.hpp"
#include "support/surveyed_region.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <cmath>
#include <string>

using namespace eggfall;

namespace {

std::vector<FallsPanel> panels_of(const SurveyedRegion& region) {
  return falls_panels(region.rows, region.survey.settings.criteria);
}

pugi::xml_document loaded(const CaptionedFigure& figure) {
  pugi::xml_document svg;
  REQUIRE(svg.load_string(figure.svg.c_str()));
  return svg;
}

} // namespace

TEST_CASE("Panels hold every group once, by class, the least fall first and none last") {
  SurveyedRegion region = surveyed_region(60);
  region.rows[3].reduction.reset();
  const auto panels = panels_of(region);
  REQUIRE(panels.size() == 3);
  CHECK(panels[0].name == "BZ");
  // WAAVP 2023, clinical, for sheep, as src/data/cut_offs.toml has it.
  CHECK(panels[0].expected == 0.95);
  CHECK(panels[0].lower == 0.90);
  std::size_t rows = 0;
  for (const FallsPanel& panel : panels) {
    rows += panel.rows.size();
    for (std::size_t i = 1; i < panel.rows.size(); ++i) {
      const auto& before = panel.rows[i - 1]->reduction;
      const auto& after = panel.rows[i]->reduction;
      CHECK((!after || (before && *before <= *after)));
    }
    for (const SurveyRow* const row : panel.rows)
      CHECK(to_string(row->group.classes) == panel.name);
  }
  CHECK(rows == 60);
}

TEST_CASE("Groups of one class with other thresholds have a panel of their own") {
  SurveyedRegion region = surveyed_region(10);
  for (SurveyRow& row : region.rows)
    row.group.classes = {DrugClass::bz};
  region.rows[0].group.host = "pigs";
  region.rows[1].group.host = "llamas";
  const auto panels = panels_of(region);
  REQUIRE(panels.size() == 3);
  for (const FallsPanel& panel : panels)
    CHECK(panel.name != "BZ"); // each says by what it is judged
  CHECK(std::ranges::count(panels, std::string("BZ, no cut-off"), &FallsPanel::name) == 1);
}

TEST_CASE("The axis of a survey never begins below no fall at all") {
  CHECK(survey_fall_range({-4.0, 0.99}).least == 0);
  CHECK(survey_fall_range({0.85, 0.99}).least == 0.8);
}

TEST_CASE("Few groups have a name and a mark each, at their falls") {
  const SurveyedRegion region = surveyed_region(10);
  std::size_t named = 0;
  for (const CaptionedFigure& figure : survey_falls_figures(panels_of(region))) {
    const pugi::xml_document svg = loaded(figure);
    for (const pugi::xpath_node row : svg.select_nodes("//g[@class='row']")) {
      const std::string name = row.node().child("text").child_value();
      CHECK(std::ranges::any_of(region.rows, [&](const SurveyRow& each) {
        return name.starts_with(each.trial + ": " + each.group.name.substr(0, 3));
      }));
      ++named;
    }
  }
  CHECK(named == 10);
  CHECK_THAT(survey_falls_key(panels_of(region)), Catch::Contains("Solid square: resistant."));
}

TEST_CASE("A hundred groups have a line and a mark each, from limit to limit, sorted") {
  const SurveyedRegion region = surveyed_region(100);
  const auto panels = panels_of(region);
  const auto figures = survey_falls_figures(panels);
  REQUIRE(figures.size() == panels.size());
  for (std::size_t p = 0; p < panels.size(); ++p) {
    const pugi::xml_document svg = loaded(figures[p]);
    std::size_t lines = 0;
    for (const pugi::xpath_node path : svg.select_nodes("//g[@class='limits']/path")) {
      const std::string d = path.node().attribute("d").value();
      lines += static_cast<std::size_t>(std::ranges::count(d, 'M'));
    }
    CHECK(lines == panels[p].rows.size());
    double last = 0;
    std::size_t marks = 0;
    for (const pugi::xml_node mark : svg.select_node("//g[@class='falls']").node().children()) {
      const std::string name = mark.name();
      double x = mark.attribute("cx").as_double();
      if (name == "rect")
        x = mark.attribute("x").as_double() + mark.attribute("width").as_double() / 2;
      else if (name == "path") // the arrow of a rise
        continue;
      CHECK(x >= last - 0.011); // two decimals are written
      last = x;
      ++marks;
    }
    CHECK(marks == panels[p].rows.size());
  }
}

TEST_CASE("A thousand groups are a strip no higher than a sheet of paper, with every fall in it") {
  const SurveyedRegion region = surveyed_region(1'000);
  const auto panels = panels_of(region);
  const auto figures = survey_falls_figures(panels);
  for (std::size_t p = 0; p < panels.size(); ++p) {
    const pugi::xml_document svg = loaded(figures[p]);
    const pugi::xml_node falls =
        svg.select_node("//g[@class='falls']/path[@stroke-linecap]").node();
    const std::string d = falls.attribute("d").value();
    CHECK(static_cast<std::size_t>(std::ranges::count(d, 'M')) == panels[p].rows.size());
    const std::string box = svg.document_element().attribute("viewBox").value();
    CHECK(std::stod(box.substr(box.rfind(' '))) < 2 * NarrowFigure::full_width);
  }
  CHECK_THAT(survey_falls_key(panels), !Catch::Contains("Where marks have room"));
}

TEST_CASE("A fall below the axis has an arrow, and one that is missing is not drawn") {
  SurveyedRegion region = surveyed_region(3);
  for (SurveyRow& row : region.rows)
    row.group.classes = {DrugClass::bz};
  region.rows[0].reduction = -3.0;
  region.rows[1].reduction.reset();
  const auto figures = survey_falls_figures(panels_of(region));
  REQUIRE(figures.size() == 1);
  const pugi::xml_document svg = loaded(figures[0]);
  CHECK(svg.select_nodes("//g[@class='row']").size() == 2);
  CHECK(figures[0].svg.find("l-6 0m3 -3l-3 3l3 3") != std::string::npos);
  region.rows[0].reduction.reset();
  region.rows[2].reduction.reset();
  CHECK(survey_falls_figures(panels_of(region)).empty());
}
