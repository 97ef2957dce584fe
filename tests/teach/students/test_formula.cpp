#include "teach/students/formula.hpp"

#include "support/support.hpp"

#include <pugixml.hpp>

#include <sstream>
#include <string>
#include <string_view>

using namespace eggfall;

namespace {

std::string drawn(const Formula& formula) {
  pugi::xml_document page;
  std::ostringstream text;
  add_formula(page.append_child("p"), formula).first_child().print(text, "", pugi::format_raw);
  return text.str();
}

} // namespace

TEST_CASE("formula: what is divided stands above what divides it") {
  const Formula mean = Formula::fraction("sum of x", "animals");
  CHECK(drawn(mean) == "<mfrac><mrow><mtext>sum of x</mtext></mrow><mrow><mtext>animals</mtext>"
                       "</mrow></mfrac>");
  CHECK(mean.line() == "sum of x / animals");
}

TEST_CASE("formula: numbers and signs are told from words") {
  CHECK(drawn("t = 2.101") == "<mrow><mtext>t</mtext><mo>=</mo><mn>2.101</mn></mrow>");
  CHECK(drawn("-45.1%") == "<mrow><mn>-45.1%</mn></mrow>");
  // A word may have no letter of its own, and a number must have a digit.
  CHECK(drawn("e") == "<mrow><mtext>e</mtext></mrow>");
}

TEST_CASE("formula: in a line, brackets stand where the drawing needs none") {
  const Formula lost = Formula::fraction("a", "b \u2212 1");
  CHECK(lost.line() == "a / (b \u2212 1)");
  CHECK(Formula::fraction(lost, "c").line() == "(a / (b \u2212 1)) / c");
  CHECK((Formula("100 \u00d7 ( 1 \u2212") + lost + ")").line() ==
        "100 \u00d7 (1 \u2212 a / (b \u2212 1))");
  CHECK(Formula::root("Y").line() == "root of Y");
  CHECK(Formula::root("Y + 1").line() == "root of (Y + 1)");
  CHECK(Formula::square("mean").line() == "mean squared");
  CHECK(drawn(Formula::square("mean")) ==
        "<msup><mrow><mtext>mean</mtext></mrow><mn>2</mn></msup>");
  CHECK(drawn(Formula::root("Y")) == "<msqrt><mrow><mtext>Y</mtext></mrow></msqrt>");
}

TEST_CASE("formula: who cannot see it is told it in a line") {
  pugi::xml_document page;
  const pugi::xml_node math =
      add_formula(page.append_child("p"), Formula::fraction("x", "n") + "= 2");
  CHECK(std::string_view(math.name()) == "math");
  CHECK(std::string_view(math.attribute("aria-label").value()) == "x / n = 2");
}

TEST_CASE("formula: a step has its name, its formula, and then its blanks") {
  pugi::xml_document page;
  pugi::xml_node steps = page.append_child("ol");
  add_formula_step(steps, "Mean", Formula::fraction("x", "n"), {"Treated:", "untreated:"});
  std::string order;
  for (const pugi::xml_node child : steps.child("li").children())
    order += std::string(child.name()) + child.value() + "|";
  CHECK(order == "Mean = |math| Treated: |span| untreated: |span|");
}
