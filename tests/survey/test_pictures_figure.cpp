#include "survey/pictures_figure.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cmath>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

RegionPicture picture(const std::string& drug_class, double mean) {
  RegionPicture result;
  result.drug_class = drug_class;
  result.host = "sheep";
  result.groups = 40;
  result.below[0] = {0.90, {mean, 6, 20}, 0.3};
  result.below[1] = {0.95, {mean + 4, 12, 24}, 0.4};
  return result;
}

Survey survey_by(const std::vector<std::vector<SurveyField>>& breakdowns) {
  Survey survey = empty_survey({}, {}, breakdowns);
  for (Breakdown& breakdown : survey.breakdowns) {
    Stratum stratum;
    for (const SurveyField field : breakdown.fields)
      stratum.push_back(field == SurveyField::host ? "sheep" : "BZ");
    breakdown.strata[stratum] = {6, 0, 3, 0, 1, 2};
  }
  return survey;
}

} // namespace

TEST_CASE("What stands beside a region's picture is the tally of just its groups, or none") {
  using F = SurveyField;
  const RegionPicture bz = picture("BZ", 10);
  CHECK(tally_of(survey_by({{F::drug_class, F::host}}), bz));
  CHECK(tally_of(survey_by({{F::host, F::drug_class}}), bz));
  CHECK(tally_of(survey_by({{F::drug_class}, {F::host}}), bz));
  CHECK_FALSE(tally_of(survey_by({{F::drug_class}}), bz)); // of which hosts?
  CHECK_FALSE(tally_of(survey_by({{F::drug_class}, {F::host}}), picture("LV", 10)));
  Survey two_hosts = survey_by({{F::drug_class}, {F::host}});
  two_hosts.breakdowns[1].strata[{"goats"}] = {1, 0, 0, 0, 0, 0};
  CHECK_FALSE(tally_of(two_hosts, bz));
}

TEST_CASE("Dots and bars of a region's picture stand at their shares on one scale") {
  using F = SurveyField;
  const Survey survey = survey_by({{F::drug_class}, {F::host}});
  const CaptionedFigure figure = pictures_figure(survey, {picture("LV", 2), picture("BZ", 10)});
  CHECK(figure.finding == "BZ, sheep: of 40 groups 10 truly lie below 90% (6 to 20)");
  pugi::xml_document svg;
  REQUIRE(svg.load_string(figure.svg.c_str()));
  // The scale's own line, from 0 to 1.
  const pugi::xml_node axis = svg.document_element().child("line");
  const double left = axis.attribute("x1").as_double();
  const double right = axis.attribute("x2").as_double();
  const auto share = [&](double x) { return (x - left) / (right - left); };
  const auto pictures = svg.select_nodes("//g[@class='picture']");
  REQUIRE(pictures.size() == 2);
  const pugi::xml_node bz = pictures[1].node();
  const pugi::xml_node below_90 = bz.child("circle");
  CHECK(std::abs(share(below_90.attribute("cx").as_double()) - 10.0 / 40) <
        support::read_from_picture);
  CHECK(std::abs(share(below_90.next_sibling("circle").attribute("cx").as_double()) - 14.0 / 40) <
        support::read_from_picture);
  const std::string bar = bz.child("path").attribute("d").value();
  CHECK(std::abs(share(std::stod(bar.substr(1))) - 6.0 / 40) < support::read_from_picture);
  CHECK(std::abs(share(std::stod(bar.substr(bar.find('H') + 1))) - 20.0 / 40) <
        support::read_from_picture);
  // 3 of the 10 with a class stand resistant.
  const pugi::xml_node square = bz.child("rect");
  CHECK(std::abs(
            share(square.attribute("x").as_double() + square.attribute("width").as_double() / 2) -
            0.3) < support::read_from_picture);
  CHECK_FALSE(pictures[0].node().child("rect")); // no breakdown has its groups
  CHECK_THROWS_AS(pictures_figure(survey, {}), CalculationError);
}

TEST_CASE("No more pictures are drawn than have room") {
  const std::vector<RegionPicture> many(20, picture("BZ", 10));
  pugi::xml_document svg;
  REQUIRE(svg.load_string(pictures_figure(survey_by({}), many).svg.c_str()));
  CHECK(svg.select_nodes("//g[@class='picture']").size() == most_pictures_drawn);
}
