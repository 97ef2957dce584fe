#include "teach/students/line_up.hpp"

#include "eggfall/base/error.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "report/figures/fall_axis.hpp"
#include "teach/students/student_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr double row_height = 13;
constexpr double top = 22;
constexpr double mark_room = 46;
constexpr double wall_width = 760; ///< Of the figure to draw on, for paper laid across.
constexpr std::size_t rows_a_sheet = 30;
constexpr FallRange axis_range{0, 0.999};
constexpr std::string_view missed_mark = "misses";
/// So long that an arrow at an end stays whole.
constexpr std::string_view missed_dashes = "13 4";

/// What the labels before the lines need.
double label_room(const LineUp& line_up) {
  constexpr double letter = 6.2;
  std::size_t longest = 2;
  for (const LineUpRow& row : line_up.rows)
    longest = std::max(longest, row.label.size());
  return 12 + letter * static_cast<double>(longest);
}

/// With `beside` to the right of it.
FallAxis axis_of(const LineUp& line_up, double width, double beside) {
  const double left = NarrowFigure::margin + label_room(line_up);
  return {{left, top, width - NarrowFigure::margin - beside - left,
           row_height * static_cast<double>(line_up.rows.size())},
          axis_range};
}

/// That of line_up_figure().
FallAxis axis_of(const LineUp& line_up) {
  return axis_of(line_up, NarrowFigure::full_width, mark_room);
}

double row_middle(std::size_t i) {
  return top + row_height * (static_cast<double>(i) + 0.5);
}

/// Every fifth line is ruled, so that the eye keeps to its own.
void draw_lines(pugi::xml_node svg, const LineUp& line_up, const FallAxis& axis) {
  for (std::size_t i = 0; i < line_up.rows.size(); ++i) {
    add_label(svg, {axis.box().x - 6, row_middle(i) + 4}, line_up.rows[i].label, Anchor::end);
    if (i % 5 == 4 && i + 1 < line_up.rows.size())
      add_rule(svg, {axis.box().x, row_middle(i) + row_height / 2},
               {axis.box().right(), row_middle(i) + row_height / 2}, rule_colour, 0.5);
  }
}

void draw_truth(pugi::xml_node svg, const FallAxis& axis, const DrawnTruth& truth) {
  pugi::xml_node line = add_rule(svg, {truth.x, top - 4}, {truth.x, axis.box().bottom()}, ink, 1.6);
  set(line, "class", "truth");
  pugi::xml_node label = add_label(svg, {truth.x, top - 8}, truth.words, Anchor::start);
  set(label, "class", "truth");
  set(label, "text-anchor", truth.anchor);
  set(label, "font-weight", "bold");
}

/// The lesson page's script paints as this does.
void draw_test(pugi::xml_node svg, std::size_t i, const DrawnTest& test) {
  const bool missed = test.mark == missed_mark;
  pugi::xml_node group = add_group(svg, missed ? "test missed" : "test");
  pugi::xml_node bar = add_bar(group, test.outline);
  set(bar, "stroke", missed ? miss_colour : ink);
  set(bar, "stroke-dasharray", missed ? missed_dashes : "none");
  pugi::xml_node dot = add_fall_dot(group, {test.fall.value_or(0), row_middle(i)});
  set(dot, "visibility", test.fall ? "visible" : "hidden");
  set(dot, "fill", test.beyond ? paper_colour : deep_colour);
  set(dot, "stroke", test.beyond ? deep_colour : paper_colour);
  pugi::xml_node word =
      add_label(group, {NarrowFigure::full_width - NarrowFigure::margin, row_middle(i) + 4},
                test.mark, Anchor::end);
  set(word, "class", "mark");
  set(word, "fill", missed ? miss_colour : ink);
  set(word, "font-weight", "bold");
}

std::string plural(std::size_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

} // namespace

std::vector<LineUp> line_ups_on_paper(const LineUp& line_up) {
  std::vector<LineUp> sheets;
  for (const LineUpRow& row : line_up.rows) {
    if (sheets.empty() || sheets.back().rows.size() == rows_a_sheet)
      sheets.push_back({line_up.truth, {}});
    sheets.back().rows.push_back(row);
  }
  return sheets;
}

LineUpRow line_up_row(std::string label, const GroupAnalysis& analysis) {
  return {std::move(label), analysis.evidence.reduction, analysis.evidence.intervals};
}

bool holds(const Interval& interval, double truth) {
  return outcome(interval, truth) == Outcome::held;
}

const Interval& interval_by(const std::vector<Interval>& intervals, Method method) {
  const auto found = std::ranges::find(intervals, method, &Interval::method);
  if (found == intervals.end())
    throw CalculationError(fmt::format("no interval by {}", to_string(method)));
  return *found;
}

IntervalTally tally(const LineUp& line_up, Method method) {
  IntervalTally result;
  for (const LineUpRow& row : line_up.rows) {
    const Interval& interval = interval_by(row.intervals, method);
    if (!interval.usable())
      ++result.none;
    else if (holds(interval, line_up.truth))
      ++result.held;
    else
      ++result.missed;
  }
  return result;
}

std::string tally_words(const LineUp& line_up, Method method) {
  const IntervalTally counted = tally(line_up, method);
  std::string text = fmt::format("{} of {} {} the truth", counted.held, line_up.rows.size(),
                                 counted.held == 1 ? "holds" : "hold");
  if (counted.missed > 0)
    text += "; " + plural(counted.missed, "misses it", "miss it");
  if (counted.none > 0)
    text += "; " + plural(counted.none, "does not exist", "do not exist");
  return text + ".";
}

DrawnTest drawn_test(const LineUp& line_up, std::size_t row, Method method) {
  const FallAxis axis = axis_of(line_up);
  const LineUpRow& test = line_up.rows[row];
  const Interval& interval = interval_by(test.intervals, method);
  const auto beyond = [&axis](double fall) {
    return axis.beyond_left(fall) || axis.beyond_right(fall);
  };
  return {bar_outline(axis, row_middle(row), interval),
          test.reduction ? std::optional(axis.x_of(*test.reduction)) : std::nullopt,
          test.reduction && beyond(*test.reduction),
          !interval.usable()               ? "none"
          : holds(interval, line_up.truth) ? ""
                                           : missed_mark};
}

DrawnTruth drawn_truth(const LineUp& line_up) {
  const FallAxis axis = axis_of(line_up);
  const double x = axis.x_of(line_up.truth);
  return {x, x > axis.box().middle() ? "end" : "start",
          fmt::format("truth {}", percent_written(line_up.truth))};
}

std::string line_up_figure(const LineUp& line_up, Method method) {
  NarrowFigure figure(
      fmt::format("All intervals against the truth: {}", title(method)),
      fmt::format("A line for each test, its fall as a dot and its interval as a bar, and the "
                  "truth as an upright line. Intervals: {} The answers hold the same numbers.",
                  tally_words(line_up, method)));
  const FallAxis axis = axis_of(line_up);
  draw_lines(figure.svg(), line_up, axis);
  draw_truth(figure.svg(), axis, drawn_truth(line_up));
  for (std::size_t i = 0; i < line_up.rows.size(); ++i)
    draw_test(figure.svg(), i, drawn_test(line_up, i, method));
  axis.draw(figure.svg());
  return figure.finished(axis.box().bottom() + FallAxis::height_below);
}

std::string blank_line_up_figure(const LineUp& line_up) {
  NarrowFigure figure("An empty line-up",
                      "A labelled line for each test over an axis of falls, to draw on.",
                      wall_width);
  const FallAxis axis = axis_of(line_up, wall_width, FallAxis::overhang);
  draw_lines(figure.svg(), line_up, axis);
  for (std::size_t i = 0; i < line_up.rows.size(); ++i)
    add_rule(figure.svg(), {axis.box().x, row_middle(i)}, {axis.box().right(), row_middle(i)},
             rule_colour, 0.5, "1 3");
  axis.draw(figure.svg());
  return figure.finished(axis.box().bottom() + FallAxis::height_below);
}

} // namespace eggfall
