#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/interval.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// One test of a line-up.
struct LineUpRow {
  std::string label;               ///< Short: it stands before the line.
  std::optional<double> reduction; ///< A proportion; empty: no egg to compare with.
  std::vector<Interval> intervals; ///< Of each method once.
};

/// The row of a test, with all intervals of the design that it was analysed by.
LineUpRow line_up_row(std::string label, const GroupAnalysis& analysis);

/// Tests of one truth, one below the other.
struct LineUp {
  double truth = 0; ///< A proportion.
  std::vector<LineUpRow> rows;
};

/// The same in parts, of which a sheet of paper has room for each: 30 rows at most.
std::vector<LineUp> line_ups_on_paper(const LineUp& line_up);

/// How many intervals held the truth.
struct IntervalTally {
  std::size_t held = 0;   ///< lower limit <= truth <= upper limit.
  std::size_t missed = 0; ///< There were limits, and the truth was not between them.
  std::size_t none = 0;   ///< No limits.
};

/// @throws CalculationError if a row has no interval by the method.
IntervalTally tally(const LineUp& line_up, Method method);

/// "25 of 30 hold the truth; 3 miss it; 2 do not exist."
std::string tally_words(const LineUp& line_up, Method method);

/// A figure (SVG): the truth as an upright line, and each test's interval by `method` as a bar. All
/// line-ups have the same axis, from 0 to 99.9%, so that figures can be laid side by side: a bar
/// that goes on beyond an end has an arrow there, and a fall beyond it a hollow dot. What misses
/// the truth is drawn in the ink for that, dashed, and says so.
/// @throws CalculationError as tally().
std::string line_up_figure(const LineUp& line_up, Method method);

/// How to read it.
inline constexpr std::string_view line_up_key =
    "Dot: the fall; hollow if it lies beyond the axis. Bar: its interval; an arrow if it goes on. "
    "Dashed: it misses the truth.";

/// The same axis and lines without any interval or truth, to draw on: so wide that it fills a sheet
/// of paper laid across.
std::string blank_line_up_figure(const LineUp& line_up);

/// Whether an interval holds the truth.
bool holds(const Interval& interval, double truth);

/// The interval by a method.
/// @throws CalculationError if there is none.
const Interval& interval_by(const std::vector<Interval>& intervals, Method method);

/// What line_up_figure() draws of one test, for whoever is to put the tests of another line-up of
/// as many rows in their place: each row is <g class="test"> (or "test missed") with a path, a
/// circle and <text class="mark">, and the truth is <line class="truth"> and <text class="truth">.
struct DrawnTest {
  std::string outline;        ///< bar_outline() of the interval; empty: none.
  std::optional<double> fall; ///< x of the dot; empty: no egg to compare with.
  bool beyond = false;        ///< The fall lies beyond the axis: the dot is hollow.
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
