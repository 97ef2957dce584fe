#include "plan/group_sign.hpp"

#include "formats/drawing/inks.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <set>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;

namespace {

std::vector<PlannedGroup> groups_with_control_at(std::size_t control, std::size_t treated) {
  std::vector<PlannedGroup> groups(treated + 1);
  for (std::size_t i = 0; i < groups.size(); ++i)
    groups[i].name = "g" + std::to_string(i);
  groups[control].role = Role::control;
  return groups;
}

pugi::xml_document drawing_of(const std::string& svg) {
  pugi::xml_document document;
  REQUIRE(document.load_string(svg.c_str()));
  return document;
}

} // namespace

TEST_CASE("No two groups have a shape or a mark in common, however many there are") {
  // Three times round the seven solid shapes, and a control.
  const std::vector<GroupSign> signs = group_signs(groups_with_control_at(4, 21));
  std::set<std::string> shapes;
  std::set<std::string> marks;
  std::set<std::string> drawn_shapes;
  std::set<std::string> drawn_marks;
  for (const GroupSign& sign : signs) {
    shapes.insert(sign.shape);
    marks.insert(sign.mark);
    drawn_shapes.insert(sign.svg);
    drawn_marks.insert(sign.mark_svg);
  }
  for (const auto* all : {&shapes, &marks, &drawn_shapes, &drawn_marks})
    CHECK(all->size() == 22);
  CHECK(signs[0].shape == "square");
  CHECK(signs[0].word() == "SQUARE");
  CHECK(signs[8].word() == "SQUARE 2");
  CHECK(signs[8].shape == "square 2"); // the eighth treated group, the control being the fifth
  CHECK(signs[8].mark == "stripe across the rump, and a 2");
}

TEST_CASE("A solid shape is drenched and an empty ring is not, wherever the control stands") {
  for (const std::size_t control : {0U, 2U, 3U}) {
    const std::vector<GroupSign> signs = group_signs(groups_with_control_at(control, 3));
    std::vector<std::string> treated;
    for (std::size_t i = 0; i < signs.size(); ++i) {
      INFO(i);
      const pugi::xml_document shape = drawing_of(signs[i].svg);
      CHECK(std::string_view(shape.child("svg").attribute("class").value()) == "sign");
      const pugi::xml_node ring = shape.child("svg").child("circle");
      if (i == control) {
        CHECK(signs[i].shape == "ring");
        CHECK(std::string_view(ring.attribute("fill").value()) == "none");
        continue;
      }
      treated.push_back(signs[i].shape);
      CHECK(ring.empty());
      CHECK(std::string_view(shape.child("svg").child("path").attribute("fill").value()) == ink);
    }
    CHECK(treated == std::vector<std::string>{"square", "triangle", "cross"});
  }
}

TEST_CASE("Hatching is drawn, and that along the edges leaves the middle clear") {
  const pugi::xml_document all_over = drawing_of(hatching());
  const pugi::xml_node line = all_over.child("svg").child("line");
  CHECK(std::string_view(line.attribute("y1").value()) == "50%");
  CHECK(!line.attribute("stroke-dasharray").empty());
  const pugi::xml_document edges = drawing_of(hatched_edges());
  std::vector<std::string> heights;
  for (const pugi::xml_node edge : edges.child("svg").children("line")) {
    heights.emplace_back(edge.attribute("y1").value());
    // Half of it lies within; a line of the sheet is 34 px high (9.1 mm).
    CHECK(edge.attribute("stroke-width").as_double() / 2 < 5);
  }
  CHECK(heights == std::vector<std::string>{"0%", "100%"});
}

TEST_CASE("A mark comes last, is made for livestock, and horses are not sprayed") {
  FieldSheetQuestion question;
  for (const char* host : {"sheep", "horses", ""}) {
    question.host = host;
    CHECK_THAT(marking_advice(question),
               Catch::Contains("made for livestock") && Catch::Contains("Mark last") &&
                   Catch::Contains("not drenched again that day") &&
                   Catch::Contains("until the last second sample") &&
                   Catch::Contains("14 days or so") && Catch::Contains("The tag decides") &&
                   Catch::Contains("away from eyes"));
  }
  CHECK_THAT(marking_advice(question), Catch::Contains("livestock spray, or raddle") &&
                                           Catch::Contains("never paint") &&
                                           Catch::Contains("scours out"));
  question.host = "horses";
  CHECK_THAT(marking_advice(question), Catch::Contains("crayon") && !Catch::Contains("raddle"));
}
