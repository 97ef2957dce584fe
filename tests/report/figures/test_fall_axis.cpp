#include "report/figures/fall_axis.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

const SvgBox box{10, 0, 300, 50};

} // namespace

TEST_CASE("The scale of falls is that of the logarithm of the eggs left") {
  const FallAxis axis(box, fall_range({0.6, 0.992}));
  // From 50% to 99.95%: 50 and 0.05 of 100 eggs left, three tens apart; arithmetic.
  CHECK_THAT(axis.x_of(0.5), support::close_to(10));
  CHECK_THAT(axis.x_of(0.95), support::close_to(10 + 300.0 / 3));
  CHECK_THAT(axis.x_of(0.995), support::close_to(10 + 2 * 300.0 / 3));
  CHECK_THAT(axis.x_of(0.9995), support::close_to(310));
}

TEST_CASE(
    "The axis ends at a round number beyond what is drawn, and goes no further than it must") {
  CHECK_THAT(FallAxis(box, fall_range({0.85, 0.95})).x_of(0.8), support::close_to(10));
  CHECK_THAT(FallAxis(box, fall_range({0.85, 0.95})).x_of(0.99), support::close_to(310));
  CHECK_THAT(FallAxis(box, fall_range({0.85, 0.999})).x_of(0.9995), support::close_to(310));
  CHECK_THAT(FallAxis(box, fall_range({-0.2})).x_of(-1), support::close_to(10));
  CHECK_THAT(FallAxis(box, fall_range({-50})).x_of(-9), support::close_to(10));
}

TEST_CASE("What lies beyond an end stands at it, and is told") {
  const FallAxis axis(box, fall_range({0.5, 0.9999}));
  CHECK(axis.beyond_right(0.9999));
  CHECK(axis.beyond_right(1));
  CHECK(axis.beyond_left(0.49));
  CHECK_FALSE(axis.beyond_left(0.5));
  CHECK_FALSE(axis.beyond_right(0.9995));
  CHECK_THAT(axis.x_of(1), support::close_to(310));
  CHECK_THAT(axis.x_of(-3), support::close_to(10));
}

TEST_CASE("No label of the axis runs into another or beyond its room, and all are whole") {
  for (const FallRange& range : {FallRange{-9, 0.9995}, FallRange{-1, 0.9995}, FallRange{0, 0.999},
                                 FallRange{0.8, 0.99}, FallRange{0.5, 0.9995}})
    for (const double width : {180.0, 290.0, 700.0}) {
      INFO(range.least << " to " << range.most << ", " << width);
      pugi::xml_document document;
      pugi::xml_node svg = document.append_child("svg");
      FallAxis({20, 0, width, 10}, range).draw(svg);
      std::vector<std::pair<double, double>> labels;
      for (const pugi::xml_node text : svg.children("text")) {
        const std::string label = text.child_value();
        if (!label.ends_with('%') || label.find(' ') != std::string::npos) // the axis' title
          continue;
        const double middle = text.attribute("x").as_double();
        const double half = text_units(label) / 2;
        labels.emplace_back(middle - half, middle + half);
      }
      std::ranges::sort(labels);
      REQUIRE(labels.size() >= 2);
      // Coordinates are written with two decimals.
      CHECK(labels.front().first >= 20 - FallAxis::overhang - 0.01);
      CHECK(labels.back().second <= 20 + width + FallAxis::overhang + 0.01);
      for (std::size_t i = 1; i < labels.size(); ++i)
        CHECK(labels[i - 1].second < labels[i].first);
    }
}
