#include "teach/students/line_up_pair.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>
#include <string_view>

using namespace eggfall;

namespace {

Interval limits(Method method, double lower, double upper) {
  return {method, 0.95, lower, upper, "", {}};
}

/// The interval by hand misses the truth of 93%, and that of the posterior holds it.
LineUp one_test() {
  return {0.93,
          {{"1",
            0.97,
            {limits(Method::log_ratio_1992, 0.95, 0.99),
             limits(Method::guarded_posterior, 0.85, 0.99)}}}};
}

} // namespace

TEST_CASE("line-up pair: the formula's intervals stand first, each kind with its own tally") {
  pugi::xml_document page;
  add_line_up_pair(page.append_child("body"), one_test());
  const auto halves = page.select_nodes("/body/div[@class='pair']/div[@class='half']");
  REQUIRE(halves.size() == 2);
  const auto text = [&](std::size_t half, const char* name) {
    return std::string(halves[half].node().select_node(name).node().text().get());
  };
  CHECK_THAT(text(0, "h3"), Catch::StartsWith("By hand"));
  CHECK(text(0, "figure/p") == "0 of 1 hold the truth; 1 misses it.");
  CHECK_THAT(text(1, "h3"), Catch::StartsWith("Posterior"));
  CHECK(text(1, "figure/p") == "1 of 1 holds the truth.");
  for (const auto& half : halves)
    CHECK(half.node().child("figure").child("svg"));
}

TEST_CASE("line-up pair: both figures have one axis, so that they can be compared") {
  pugi::xml_document page;
  add_line_up_pair(page.append_child("body"), one_test());
  const auto truths = page.select_nodes("//line[@class='truth']");
  REQUIRE(truths.size() == 2);
  CHECK(std::string_view(truths[0].node().attribute("x1").value()) ==
        truths[1].node().attribute("x1").value());
}

TEST_CASE("line-up pair: a test that lacks one of the intervals is refused") {
  LineUp line_up = one_test();
  line_up.rows.front().intervals.pop_back();
  pugi::xml_document page;
  pugi::xml_node body = page.append_child("body");
  CHECK_THROWS_AS(add_line_up_pair(body, line_up), CalculationError);
}

TEST_CASE("line-up pair: a large class has several pairs, each told what part it is") {
  LineUp line_up = one_test();
  for (int i = 2; i <= 31; ++i) {
    line_up.rows.push_back(line_up.rows.front());
    line_up.rows.back().label = std::to_string(i);
  }
  pugi::xml_document page;
  add_line_up_pair(page.append_child("body"), line_up);
  const auto found = page.select_nodes("//div[@class='pair']/div[1]/figure/p");
  REQUIRE(found.size() == 2);
  // The tally is of the whole class.
  CHECK(std::string(found[0].node().text().get()) ==
        "0 of 31 hold the truth; 31 miss it. Here 1 to 30.");
  CHECK(std::string(found[1].node().text().get()) ==
        "0 of 31 hold the truth; 31 miss it. Here 31 to 31.");
}
