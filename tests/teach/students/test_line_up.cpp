#include "teach/students/line_up.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;

namespace {

constexpr Method method = Method::paired_posterior;

Interval limits(double lower, double upper) {
  return {method, 0.95, lower, upper, "", {}};
}

const Interval none{method, 0.95, {}, {}, "no egg", {}};

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t position = 0; (position = text.find(part, position)) != std::string::npos;
       position += part.size())
    ++count;
  return count;
}

LineUp line_up_of(std::size_t rows) {
  LineUp line_up{0.93, {}};
  for (std::size_t i = 0; i < rows; ++i)
    line_up.rows.push_back({std::to_string(i), 0.9, {limits(0.8, 0.95)}});
  return line_up;
}

} // namespace

TEST_CASE("line-up: what holds, misses and does not exist is counted and drawn so") {
  const LineUp line_up{0.93,
                       {{"a", 0.9, {limits(0.8, 0.95)}},
                        {"b", 0.97, {limits(0.95, 0.99)}},
                        {"c", 1.0, {none}},
                        {"d", 0.93, {limits(0.8, 0.95)}}}};
  const IntervalTally counted = tally(line_up, method);
  CHECK(counted.held == 2);
  CHECK(counted.missed == 1);
  CHECK(counted.none == 1);
  CHECK(tally_words(line_up, method) == "2 of 4 hold the truth; 1 misses it; 1 does not exist.");
  const std::string figure = line_up_figure(line_up, method);
  CHECK(times(figure, ">misses<") == 1);
  CHECK(times(figure, ">none<") == 1);
  // What misses the truth is told by colour, by dashes and by a word.
  CHECK(times(figure, "class=\"test missed\"") == 1);
  CHECK(times(figure, "stroke=\"#a3231c\" stroke-width=\"2\" stroke-dasharray=\"13 4\"") == 1);
  CHECK(times(figure, ">truth 93.0%<") == 1);
  const std::string empty = blank_line_up_figure(line_up);
  CHECK(times(empty, "truth") == 0);
  CHECK(times(empty, ">misses<") == 0);
  CHECK_THROWS_AS(tally(line_up, Method::bootstrap_bca), CalculationError);
}

TEST_CASE("line-up: an interval holds the truth at its very limits too") {
  CHECK(holds(limits(0.93, 0.98), 0.93));
  CHECK(holds(limits(0.80, 0.93), 0.93));
  CHECK_FALSE(holds(limits(0.94, 0.98), 0.93));
  CHECK_FALSE(holds(limits(0.80, 0.92), 0.93));
  CHECK_FALSE(holds(none, 0.93));
}

TEST_CASE("line-up: the words count one and many, and leave out what is none") {
  CHECK(tally_words(line_up_of(2), method) == "2 of 2 hold the truth.");
  LineUp one{0.93, {{"a", 0.9, {limits(0.8, 0.95)}}, {"b", {}, {none}}, {"c", {}, {none}}}};
  CHECK(tally_words(one, method) == "1 of 3 holds the truth; 2 do not exist.");
  one.truth = 0.96;
  CHECK(tally_words(one, method) == "0 of 3 hold the truth; 1 misses it; 2 do not exist.");
  one.rows.pop_back();
  one.rows.push_back(one.rows.front());
  CHECK(tally_words(one, method) == "0 of 3 hold the truth; 2 miss it; 1 does not exist.");
}

TEST_CASE("line-up: the truth is labelled on the side that has room") {
  const auto left_of_its_line = [](double truth) {
    LineUp line_up = line_up_of(3);
    line_up.truth = truth;
    const std::string figure = line_up_figure(line_up, method);
    const std::size_t words = figure.find(">truth ");
    const std::string label = figure.substr(figure.rfind('<', words), 200);
    return label.substr(0, label.find('>')).find("text-anchor=\"end\"") != std::string::npos;
  };
  CHECK(left_of_its_line(0.98));
  CHECK_FALSE(left_of_its_line(0.1));
}

TEST_CASE("line-up: every fifth line is ruled, but not the last") {
  const auto lines = [](std::size_t rows) {
    return times(blank_line_up_figure(line_up_of(rows)), "<line") - rows;
  };
  const std::size_t axis = lines(4);
  CHECK(lines(5) == axis);
  CHECK(lines(6) == axis + 1);
  CHECK(lines(11) == axis + 2);
  CHECK(times(blank_line_up_figure(line_up_of(7)), "stroke-dasharray=\"1 3\"") == 7);
}

TEST_CASE("line-up: what lies beyond the axis is drawn so, at its end") {
  // The axis is from 0 to 99.9%.
  const LineUp line_up{0.93,
                       {{"a", 0.9, {limits(0.8, 0.95)}},
                        {"b", -0.5, {limits(-3, 0.5)}},
                        {"c", 1.0, {limits(0.9, 1)}},
                        {"d", 0.0, {limits(0, 0.999)}}}};
  const DrawnTest within = drawn_test(line_up, 0, method);
  const DrawnTest below = drawn_test(line_up, 1, method);
  const DrawnTest above = drawn_test(line_up, 2, method);
  const DrawnTest edge = drawn_test(line_up, 3, method);
  CHECK_FALSE(within.beyond);
  CHECK(below.beyond);
  CHECK(above.beyond);
  CHECK_FALSE(edge.beyond);
  CHECK(*below.fall == *edge.fall);
  CHECK(*above.fall > *within.fall);
  const std::string figure = line_up_figure(line_up, method);
  CHECK(times(figure, "fill=\"#ffffff\" stroke=\"#14506b\"") == 2); // hollow dots
  // All line-ups have one axis, whatever stands in them.
  CHECK(*drawn_test({0.5, {line_up.rows[0]}}, 0, method).fall == *within.fall);
}

TEST_CASE("line-up: a large class goes on to more sheets, none empty") {
  CHECK(line_ups_on_paper(line_up_of(0)).empty());
  CHECK(line_ups_on_paper(line_up_of(30)).size() == 1);
  const std::vector<LineUp> sheets = line_ups_on_paper(line_up_of(61));
  REQUIRE(sheets.size() == 3);
  CHECK(sheets[1].rows.size() == 30);
  CHECK(sheets[1].rows.front().label == "30"); // they are numbered from 0 here
  CHECK(sheets[2].rows.size() == 1);
  CHECK(sheets[2].truth == 0.93);
}
