#include "formats/drawing/captioned_figure.hpp"

#include "eggfall/base/error.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/narrow_figure.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

namespace {

CaptionedFigure some(double width = NarrowFigure::full_width) {
  NarrowFigure figure("Eggs", "Many eggs", width);
  add_rule(figure.svg(), {0, 10}, {20, 10}, deep_colour);
  return {"White fails", figure.finished(50), "A line is an egg."};
}

pugi::xml_document parsed(const std::string& svg) {
  pugi::xml_document document;
  REQUIRE(document.load_string(svg.c_str()));
  return document;
}

double bottom_of_words(const pugi::xml_document& document) {
  double lowest = 0;
  for (const auto& text : document.select_nodes("/svg/text | /svg/g/text"))
    lowest = std::max(lowest, text.node().attribute("y").as_double());
  return lowest;
}

} // namespace

TEST_CASE("A figure that stands alone says what it is of, what it shows, how to read it, whence") {
  const pugi::xml_document document =
      parsed(standing_alone(some(), "trial Brackenhill, white", "eggfall 0.1"));
  std::string words;
  for (const auto& text : document.select_nodes("/svg/text | /svg/g/text"))
    words += std::string(text.node().child_value()) + '|';
  CHECK(words == "White fails|trial Brackenhill, white|A line is an egg.|eggfall 0.1|");
  const pugi::xml_node inner = document.select_node("/svg/svg").node();
  CHECK(std::string(inner.attribute("viewBox").value()) == "0 0 320 50");
  // Words above end before it, and those below begin after it, within the whole.
  const double top = inner.attribute("y").as_double();
  CHECK(document.select_node("/svg/text[2]").node().attribute("y").as_double() < top);
  CHECK(document.select_node("/svg/text[3]").node().attribute("y").as_double() > top + 50);
  const std::string box = document.child("svg").attribute("viewBox").value();
  CHECK(bottom_of_words(document) < std::stod(box.substr(box.rfind(' '))));
  // The ink stays a colour, for readers that know no property.
  CHECK(std::string(inner.child("line").attribute("stroke").value()) == deep_colour);
}

TEST_CASE("A narrow panel that stands alone is given the room that words need") {
  const pugi::xml_document document = parsed(standing_alone(some(200), "white", ""));
  const pugi::xml_node inner = document.select_node("/svg/svg").node();
  CHECK(inner.attribute("width").as_double() == 200);
  CHECK(inner.attribute("x").as_double() == 68); // (320 + 2 x 8 - 200) / 2
}

TEST_CASE("What is no figure is refused") {
  CHECK_THROWS_AS(standing_alone({"", "no", ""}, "", ""), CalculationError);
  CHECK_THROWS_AS(standing_alone({"", "<svg/>", ""}, "", ""), CalculationError);
}

TEST_CASE("On a page a figure takes the page's inks, and its words are the page's") {
  HtmlPage page("Eggs", "");
  const pugi::xml_node figure = add_figure(page.body(), some(), "tray");
  CHECK(std::string(figure.attribute("class").value()) == "tray");
  CHECK(std::string(figure.child("p").child_value()) == "White fails");
  CHECK(std::string(figure.child("figcaption").child_value()) == "A line is an egg.");
  const pugi::xml_node svg = figure.child("svg");
  CHECK(std::string(svg.attribute("class").value()) == "inked");
  CHECK(std::string(svg.attribute("style").value()).find("fill: var(--ink)") != std::string::npos);
  CHECK(std::string(svg.child("rect").attribute("fill").value()) == "var(--paper)");
  CHECK(std::string(svg.child("line").attribute("stroke").value()) == "var(--deep)");
  CHECK(add_figure(page.body(), {"", some().svg, ""}).child("figcaption").empty());
}
