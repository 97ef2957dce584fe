#pragma once

#include "teach/class/line_up.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

// What line_up_figure() draws, for whoever is to put the tests of another line-up with the same
// axis and as many rows in their place: each row is <g class="test"> (or "test missed") with a
// path, a circle and <text class="mark">, and the truth is <line class="truth"> and <text
// class="truth">.
namespace eggfall {

struct DrawnTest {
  std::string outline;        ///< bar_outline() of the interval; empty: none.
  std::optional<double> fall; ///< x of the dot; empty: no egg to compare with.
  std::string_view mark;      ///< "misses" the truth, "none": no interval, or "": holds it.
};

/// @throws CalculationError if the row has no interval by the method.
DrawnTest drawn_test(const LineUp& line_up, std::size_t row, Method method);

struct DrawnTruth {
  double x = 0;
  std::string_view anchor; ///< Of the words, "start" or "end", so that they keep within the figure.
  std::string words;
};

DrawnTruth drawn_truth(const LineUp& line_up);

} // namespace eggfall
