#include "teach/class/line_up.hpp"

#include "eggfall/base/error.hpp"
#include "support/support.hpp"

#include <string>

using namespace eggfall;

namespace {

constexpr Method method = Method::paired_posterior;

Interval limits(double lower, double upper) {
  return {method, 0.95, lower, upper, "", {}};
}

const Interval none{method, 0.95, {}, {}, "no egg", {}};

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size())
    ++count;
  return count;
}

LineUp of(std::size_t rows) {
  LineUp line_up{0.93, 0.95, {}};
  for (std::size_t i = 0; i < rows; ++i)
    line_up.rows.push_back({std::to_string(i), 0.9, {limits(0.8, 0.95)}});
  return line_up;
}

} // namespace

TEST_CASE("line-up: what holds, misses and does not exist is counted and drawn so") {
  const LineUp line_up{0.93,
                       0.95,
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
  CHECK(tally_words(of(2), method) == "2 of 2 hold the truth.");
  LineUp one{0.93, 0.95, {{"a", 0.9, {limits(0.8, 0.95)}}, {"b", {}, {none}}, {"c", {}, {none}}}};
  CHECK(tally_words(one, method) == "1 of 3 holds the truth; 2 do not exist.");
  one.truth = 0.96;
  CHECK(tally_words(one, method) == "0 of 3 hold the truth; 1 misses it; 2 do not exist.");
  one.rows.pop_back();
  one.rows.push_back(one.rows.front());
  CHECK(tally_words(one, method) == "0 of 3 hold the truth; 2 miss it; 1 does not exist.");
}

TEST_CASE("line-up: the truth is labelled on the side that has room") {
  const auto left_of_its_line = [](double truth) {
    LineUp line_up = of(3);
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
    return times(blank_line_up_figure(of(rows)), "<line") - rows;
  };
  const std::size_t axis = lines(4);
  CHECK(lines(5) == axis);
  CHECK(lines(6) == axis + 1);
  CHECK(lines(11) == axis + 2);
  CHECK(times(blank_line_up_figure(of(7)), "stroke-dasharray=\"1 3\"") == 7);
}
