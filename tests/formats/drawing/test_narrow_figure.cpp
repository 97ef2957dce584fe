#include "formats/drawing/narrow_figure.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

namespace {

std::string attribute(const pugi::xml_node& node, const char* name) {
  return node.attribute(name).value();
}

} // namespace

TEST_CASE("A narrow figure lies on white paper of its width, below all that is drawn") {
  NarrowFigure figure("Eggs", "Many eggs");
  add_rule(figure.svg(), {0, 0}, {10, 0}, ink);
  pugi::xml_document document;
  REQUIRE(document.load_string(figure.finished(120.5).c_str()));
  const pugi::xml_node svg = document.document_element();
  CHECK(attribute(svg, "viewBox") == "0 0 320 120.5");
  const pugi::xml_node paper = svg.child("desc").next_sibling();
  CHECK(std::string(paper.name()) == "rect");
  CHECK(attribute(paper, "width") == "320");
  CHECK(attribute(paper, "height") == "120.5");
  CHECK(attribute(paper, "fill") == "#ffffff");
  CHECK(std::string(paper.next_sibling().name()) == "line");
}

TEST_CASE("A label is anchored where it starts unless it is told otherwise") {
  NarrowFigure figure("Eggs", "Many eggs");
  const pugi::xml_node start = add_label(figure.svg(), {6, 20}, "white", Anchor::start);
  const pugi::xml_node middle = add_label(figure.svg(), {180, 20}, "white", Anchor::middle, 13);
  const pugi::xml_node end = add_label(figure.svg(), {354, 20}, "white", Anchor::end);
  CHECK(std::string(start.child_value()) == "white");
  CHECK(attribute(start, "x") == "6");
  // No text is below 12.
  CHECK(attribute(start, "font-size") == "12");
  CHECK(attribute(middle, "font-size") == "13");
  CHECK(start.attribute("text-anchor").empty());
  CHECK(attribute(middle, "text-anchor") == "middle");
  CHECK(attribute(end, "text-anchor") == "end");
}

TEST_CASE("A rule is dashed if it is given dashes") {
  NarrowFigure figure("Eggs", "Many eggs");
  const pugi::xml_node plain = add_rule(figure.svg(), {0, 0}, {10, 0}, ink, 1.5);
  CHECK(attribute(plain, "stroke") == "#1a1a1a");
  CHECK(attribute(plain, "stroke-width") == "1.5");
  CHECK(plain.attribute("stroke-dasharray").empty());
  CHECK(attribute(add_rule(figure.svg(), {0, 0}, {10, 0}, ink, 1, "2 3"), "stroke-dasharray") ==
        "2 3");
}

TEST_CASE("A name is cut to the characters that fit, but never to dots alone") {
  // At 0.56 of the size a character, 32 units hold 5 of size 11 (6.16 units each).
  CHECK(cut_to("white", 32, 11) == "white");
  CHECK(cut_to("yellow", 32, 11) == "ye...");
  CHECK(cut_to("caf\xC3\xA9s", 32, 11) == "caf\xC3\xA9s");
  CHECK(cut_to("\xC3\xA9t\xC3\xA9 2031", 32, 11) == "\xC3\xA9t...");
  CHECK(cut_to("yellow", 1, 11) == "y...");
  CHECK(cut_to("none", 1, 11) == "none");
}
