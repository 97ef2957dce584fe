#include "survey/standing_marks.hpp"

#include "formats/drawing/inks.hpp"
#include "support/support.hpp"

#include <set>
#include <string>

using namespace eggfall;

namespace {

/// A drawing without its colours, as it is seen in black print: paper or not, and shapes.
std::string in_black(pugi::xml_node node) {
  std::string seen = node.name();
  for (const pugi::xml_attribute attribute : node.attributes()) {
    const std::string name = attribute.name();
    if (name == "fill" || name == "stroke")
      seen += attribute.value() == std::string(paper_colour) ? " paper" : " ink";
    else
      seen += " " + name + "=" + attribute.value();
  }
  for (const pugi::xml_node child : node.children())
    seen += "[" + in_black(child) + "]";
  return seen;
}

} // namespace

TEST_CASE("Marks and parts of bars differ in black print, but for the two classes that are open") {
  std::set<std::string> marks;
  std::set<std::string> boxes;
  for (const VerdictClass standing : all_verdict_classes) {
    pugi::xml_document document;
    const pugi::xml_node mark = document.append_child("g");
    add_standing_mark(mark, {10, 10}, standing, 4);
    marks.insert(in_black(mark));
    const pugi::xml_node box = document.append_child("g");
    add_standing_box(box, {0, 0, 40, 13}, standing);
    boxes.insert(in_black(box));
  }
  CHECK(marks.size() == all_verdict_classes.size() - 1);
  CHECK(boxes.size() == all_verdict_classes.size() - 1);
}

TEST_CASE("Hatching stays within its box, however small") {
  for (const double width : {0.5, 3.0, 40.0, 300.0})
    for (const VerdictClass standing : {VerdictClass::inconclusive, VerdictClass::low_resistant}) {
      pugi::xml_document document;
      const pugi::xml_node box = document.append_child("g");
      add_standing_box(box, {7, 5, width, 13}, standing);
      const std::string path = box.child("path").attribute("d").value();
      std::size_t position = 0;
      while ((position = path.find_first_of("ML", position)) != std::string::npos) {
        const double x = std::stod(path.substr(++position));
        CHECK(x >= 7);
        CHECK(x <= 7 + width + 0.005); // two decimals are written
      }
    }
}
