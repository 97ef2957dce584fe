#include "formats/drawing/panel_figure.hpp"

#include <catch2/catch.hpp>

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

/// A figure of panels that remember where they drew.
struct Drawn {
  std::vector<PanelArea> areas;
  PanelFigure figure;

  Drawn(std::size_t panels, std::size_t columns, std::vector<std::string> categories) {
    figure.title = "Us & <them>";
    figure.description = "Shares of two";
    figure.categories = std::move(categories);
    figure.x_title = "Efficacy";
    figure.y_title = "Share";
    figure.columns = columns;
    figure.sections = {{"Paired", "", {}}};
    for (std::size_t i = 0; i < panels; ++i)
      figure.sections[0].panels.push_back(
          {"number " + std::to_string(i + 1), {}, [this](pugi::xml_node, const PanelArea& area) {
             areas.push_back(area);
           }});
  }

  pugi::xml_document document() {
    pugi::xml_document made;
    REQUIRE(made.load_string(drawn(figure).c_str()));
    return made;
  }
};

std::vector<std::string> texts(const pugi::xml_document& document, const char* path) {
  std::vector<std::string> all;
  for (const pugi::xpath_node& each : document.select_nodes(path))
    all.emplace_back(each.node().child_value());
  return all;
}

} // namespace

TEST_CASE("A panel has its categories from left to right and its shares upward") {
  const PanelArea area{{100, 50, 60, 200}, 3};
  CHECK(area.step() == 20);
  CHECK(area.left_of(0) == 100);
  CHECK(area.left_of(2) == 140);
  CHECK(area.middle_of(2) == 150);
  CHECK(area.height_of(0) == 250);
  CHECK(area.height_of(1) == 50);
  CHECK(area.height_of(0.25) == 200);
}

TEST_CASE("Panels of one size stand side by side, and go on below") {
  Drawn made(3, 2, {"90", "95"});
  const pugi::xml_document document = made.document();
  REQUIRE(made.areas.size() == 3);
  const SvgBox& first = made.areas[0].box;
  const SvgBox& second = made.areas[1].box;
  const SvgBox& third = made.areas[2].box;
  CHECK(made.areas[0].categories == 2);
  for (const SvgBox& each : {second, third}) {
    CHECK(each.width == first.width);
    CHECK(each.height == first.height);
  }
  CHECK(second.y == first.y);
  CHECK(second.x > first.right());
  CHECK(third.x == first.x);
  CHECK(third.y > first.bottom() + panel_headroom);

  const pugi::xml_node svg = document.document_element();
  CHECK(second.right() < svg.attribute("width").as_double());
  CHECK(third.bottom() < svg.attribute("height").as_double());
  CHECK(texts(document, "//g[@class='panel']/title") ==
        std::vector<std::string>{"Paired: number 1", "Paired: number 2", "Paired: number 3"});
  // The first panel of a row has the axis of its row, in percent.
  CHECK(document.select_nodes("//g[@class='y-labels']").size() == 2);
  CHECK(texts(document, "(//g[@class='y-labels'])[1]/text") ==
        std::vector<std::string>{"0", "25", "50", "75", "100", "Share"});
}

TEST_CASE("The words for those who cannot see a figure are escaped") {
  Drawn made(1, 1, {"90"});
  CHECK_THAT(drawn(made.figure), Catch::Contains("<title>Us &amp; &lt;them&gt;</title>") &&
                                     Catch::Contains("<desc>Shares of two</desc>"));
}

TEST_CASE("Labels that have no room beside each other stand upright") {
  Drawn few(1, 1, {"90", "95"});
  const pugi::xml_document flat = few.document();
  CHECK(texts(flat, "//g[@class='x-labels']/text") == few.figure.categories);
  CHECK(flat.select_node("//g[@class='x-labels']/text/@transform").attribute().empty());

  Drawn wide(1, 1, std::vector<std::string>(10, "a label of many words"));
  const pugi::xml_document upright = wide.document();
  CHECK(texts(upright, "//g[@class='x-labels']/text") == wide.figure.categories);
  CHECK(upright.select_nodes("//g[@class='x-labels']/text[starts-with(@transform, 'rotate(-90')]")
            .size() == 10);
}

TEST_CASE("Of too many labels some are left out, so that none lies on another") {
  std::vector<std::string> many;
  for (int i = 0; i < 200; ++i)
    many.push_back(std::to_string(1'000 + i));
  Drawn made(1, 1, many);
  const pugi::xml_document document = made.document();
  const auto labels = document.select_nodes("//g[@class='x-labels']/text");
  CHECK(labels.size() < 200);
  CHECK(labels.size() > 20);
  CHECK(texts(document, "//g[@class='x-labels']/text").front() == "1000");
  const double size =
      document.select_node("//g[@class='x-labels']/@font-size").attribute().as_double();
  REQUIRE(size >= 11);
  for (std::size_t i = 1; i < labels.size(); ++i)
    CHECK(labels[i].node().attribute("x").as_double() -
              labels[i - 1].node().attribute("x").as_double() >=
          size);
}

TEST_CASE("A legend that is wider than the figure goes on below") {
  Drawn made(1, 1, {"90"});
  std::vector<SvgBox> keys;
  std::vector<LegendKey> line;
  for (int i = 0; i < 10; ++i)
    line.push_back({"a method with a long name",
                    [&](pugi::xml_node, const SvgBox& box) { keys.push_back(box); }});
  made.figure.legend = {line, {line.front()}};
  const pugi::xml_document document = made.document();
  REQUIRE(keys.size() == 11);
  const double width = document.document_element().attribute("width").as_double();
  std::size_t lines = 1;
  for (std::size_t i = 1; i < keys.size(); ++i) {
    CHECK(keys[i].right() < width);
    if (keys[i].x > keys[i - 1].x)
      CHECK(keys[i].y == keys[i - 1].y);
    else {
      CHECK(keys[i].x == keys[0].x);
      CHECK(keys[i].y > keys[i - 1].bottom());
      ++lines;
    }
  }
  CHECK(lines > 2);
  // The second list starts a line of its own.
  CHECK(keys[10].x == keys[0].x);
}

TEST_CASE("A panel alone has both axes, is of one width, and leaves its words to the page") {
  Drawn made(2, 2, {"90", "95"});
  made.figure.y_ticks = {{0, "none"}, {0.3, "some"}};
  Panel& panel = made.figure.sections[0].panels[1];
  panel.notes = {"3 of 4 fail", "none in 5"};
  pugi::xml_document document;
  REQUIRE(document.load_string(drawn_alone(made.figure, panel, "Paired: <two>").c_str()));
  CHECK(made.areas.size() == 1);
  CHECK(texts(document, "//title") == std::vector<std::string>{"Paired: <two>"});
  CHECK(texts(document, "//desc") == std::vector<std::string>{"3 of 4 fail; none in 5"});
  CHECK(texts(document, "//text") == std::vector<std::string>{"90", "95", "none", "some"});
  const std::string box = document.document_element().attribute("viewBox").value();
  CHECK_THAT(box, Catch::StartsWith("0 0 156 "));
  CHECK(made.areas[0].box.right() <= lone_panel_width);
  CHECK(made.areas[0].box.height == made.figure.area_height);
}

TEST_CASE("A legend alone goes on below where a narrow figure ends") {
  Drawn made(1, 1, {"90"});
  std::vector<SvgBox> keys;
  const LegendKey key{"a method with a long name",
                      [&](pugi::xml_node, const SvgBox& box) { keys.push_back(box); }};
  made.figure.legend = {{key, key, key}};
  pugi::xml_document document;
  REQUIRE(document.load_string(drawn_legend(made.figure).c_str()));
  REQUIRE(keys.size() == 3);
  CHECK(keys[1].y > keys[0].bottom());
  CHECK(keys[1].x == keys[0].x);
  CHECK(document.select_nodes("//text").size() == 3);
  CHECK_THAT(std::string(document.document_element().attribute("viewBox").value()),
             Catch::StartsWith("0 0 320 "));
}
