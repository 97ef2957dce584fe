#include "formats/drawing/svg_drawing.hpp"

#include <catch2/catch.hpp>

#include <iterator>
#include <string>

using namespace eggfall;

TEST_CASE("A length has two decimals at most, and no zeros after them") {
  CHECK(svg_number(120) == "120");
  CHECK(svg_number(0.5) == "0.5");
  CHECK(svg_number(1.236) == "1.24");
  CHECK(svg_number(100.1) == "100.1");
  CHECK(svg_number(-7.25) == "-7.25");
  CHECK(svg_number(0) == "0");
  CHECK(svg_number(-0.001) == "0");
}

TEST_CASE("A box ends where its width and height do") {
  constexpr SvgBox box{10, 20, 30, 5};
  CHECK(box.right() == 40);
  CHECK(box.bottom() == 25);
  CHECK(box.middle() == 25);
}

TEST_CASE("An attribute that is set again has the later value") {
  pugi::xml_document document;
  const pugi::xml_node node = document.append_child("rect");
  set(node, "width", 12.345678);
  set(node, "fill", "none");
  set(node, "fill", "#ffffff");
  CHECK(std::string(node.attribute("width").value()) == "12.35");
  CHECK(std::string(node.attribute("fill").value()) == "#ffffff");
  CHECK(std::distance(node.attributes_begin(), node.attributes_end()) == 2);
}

TEST_CASE("Shapes stand where they are put, in the order they are added") {
  pugi::xml_document document;
  const pugi::xml_node svg = add_svg(document, "Eggs", "Many eggs");
  const pugi::xml_node group = add_group(svg, "grid");
  add_box(group, {1, 2, 3, 4}, "none");
  add_line(group, {1, 2}, {3, 4.5});
  add_dot(group, {5, 6}, 2.5);
  add_text(group, {7, 8}, "12 eggs");
  CHECK_THAT(svg_text(document),
             Catch::Contains("<g class=\"grid\">\n"
                             "  <rect x=\"1\" y=\"2\" width=\"3\" height=\"4\" fill=\"none\" />\n"
                             "  <line x1=\"1\" y1=\"2\" x2=\"3\" y2=\"4.5\" />\n"
                             "  <circle cx=\"5\" cy=\"6\" r=\"2.5\" />\n"
                             "  <text x=\"7\" y=\"8\">12 eggs</text>\n"
                             " </g>"));
}

TEST_CASE("A drawing says in words what it shows, whatever the words are") {
  pugi::xml_document document;
  add_text(add_svg(document, "Us & <them>", "a\x1B[0m b"), {0, 0}, "1 < 2");
  const std::string text = svg_text(document);
  CHECK_THAT(text, Catch::Contains("<title>Us &amp; &lt;them&gt;</title>"));

  pugi::xml_document back;
  REQUIRE(back.load_string(text.c_str()));
  const pugi::xml_node svg = back.document_element();
  CHECK(std::string(svg.attribute("xmlns").value()) == "http://www.w3.org/2000/svg");
  CHECK(std::string(svg.attribute("role").value()) == "img");
  CHECK(std::string(svg.child_value("title")) == "Us & <them>");
  // An escape cannot be written in XML, and becomes a space.
  CHECK(std::string(svg.child_value("desc")) == "a [0m b");
  CHECK(std::string(svg.child_value("text")) == "1 < 2");
}
