#include "eggfall/class_pages.hpp"

#include "class_words.hpp"
#include "fall_axis.hpp"
#include "narrow_figure.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

constexpr double row_height = 13;
constexpr double top = 22;
constexpr double number_room = 26;
constexpr double mark_room = 46;
constexpr std::string_view miss_colour = "#a3231c";

/// Falls and limits of both methods, so that both figures have one axis.
FallAxis axis_of(const ClassPack& pack) {
  std::vector<double> falls{pack.truth};
  for (const ClassSheet& sheet : pack.sheets)
    for (const Method method : {Method::log_ratio_1992, Method::guarded_posterior})
      add_falls(falls, sheet.analysis.reduction, interval_of(sheet.analysis, method),
                sheet.analysis.verdicts.front().expected);
  const double left = NarrowFigure::margin + number_room;
  return {{left, top, NarrowFigure::width - NarrowFigure::margin - mark_room - left,
           row_height * static_cast<double>(pack.sheets.size())},
          falls};
}

double row_middle(std::size_t i) {
  return top + row_height * (static_cast<double>(i) + 0.5);
}

/// Every fifth line is ruled, so that the eye keeps to its own.
void draw_lines(pugi::xml_node svg, const ClassPack& pack, const FallAxis& axis) {
  for (std::size_t i = 0; i < pack.sheets.size(); ++i) {
    add_label(svg, {NarrowFigure::margin + number_room - 6, row_middle(i) + 4},
              fmt::format("{}", i + 1), Anchor::end);
    if (i % 5 == 4 && i + 1 < pack.sheets.size())
      add_rule(svg, {axis.box().x, row_middle(i) + row_height / 2},
               {axis.box().right(), row_middle(i) + row_height / 2}, rule_colour, 0.5);
  }
}

void draw_truth(pugi::xml_node svg, const ClassPack& pack, const FallAxis& axis) {
  const double x = axis.at(pack.truth);
  pugi::xml_node line = add_rule(svg, {x, top - 4}, {x, axis.box().bottom()}, deep_colour, 1.6);
  set(line, "class", "truth");
  const bool to_the_left = x > axis.box().middle();
  pugi::xml_node label =
      add_label(svg, {x, top - 8}, fmt::format("truth {}", percent_written(pack.truth)),
                to_the_left ? Anchor::end : Anchor::start);
  set(label, "font-weight", "bold");
}

void draw_mark(pugi::xml_node svg, std::size_t i, std::string_view word) {
  pugi::xml_node label = add_label(
      svg, {NarrowFigure::width - NarrowFigure::margin, row_middle(i) + 4}, word, Anchor::end);
  set(label, "fill", miss_colour);
  set(label, "font-weight", "bold");
}

} // namespace

std::string line_up_figure(const ClassPack& pack, Method method) {
  const IntervalTally counted = tally(pack, method);
  NarrowFigure figure(fmt::format("All intervals of the class: {}", title(method)),
                      fmt::format("A line for each worksheet, its fall as a dot and its interval "
                                  "as a bar, and the truth as an upright line. Of {} intervals {} "
                                  "hold the truth, {} miss it, and {} do not exist. The answers "
                                  "hold the same numbers.",
                                  pack.sheets.size(), counted.held, counted.missed, counted.none));
  const FallAxis axis = axis_of(pack);
  draw_lines(figure.svg(), pack, axis);
  draw_truth(figure.svg(), pack, axis);
  for (std::size_t i = 0; i < pack.sheets.size(); ++i) {
    const GroupAnalysis& analysis = pack.sheets[i].analysis;
    const Interval& interval = interval_of(analysis, method);
    draw_interval(figure.svg(), axis, row_middle(i), analysis.reduction, interval);
    if (!interval.usable())
      draw_mark(figure.svg(), i, "none");
    else if (!holds(interval, pack.truth))
      draw_mark(figure.svg(), i, "misses");
  }
  axis.draw(figure.svg());
  return figure.finished(axis.box().bottom() + FallAxis::height_below);
}

std::string blank_line_up_figure(const ClassPack& pack) {
  NarrowFigure figure("An empty line-up",
                      "A numbered line for each worksheet over an axis of falls, to draw on.");
  const FallAxis axis = axis_of(pack);
  draw_lines(figure.svg(), pack, axis);
  for (std::size_t i = 0; i < pack.sheets.size(); ++i)
    add_rule(figure.svg(), {axis.box().x, row_middle(i)}, {axis.box().right(), row_middle(i)},
             rule_colour, 0.5, "1 3");
  axis.draw(figure.svg());
  return figure.finished(axis.box().bottom() + FallAxis::height_below);
}

} // namespace eggfall
