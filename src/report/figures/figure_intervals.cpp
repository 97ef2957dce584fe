#include "report/figures/analysis_figures.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "report/figures/fall_axis.hpp"

#include <fmt/format.h>

namespace eggfall {

std::optional<std::string> intervals_figure(const GroupAnalysis& analysis) {
  if (!analysis.evidence.design)
    return std::nullopt;
  constexpr double row_height = 34;
  constexpr double top = 8;
  const double height = row_height * static_cast<double>(analysis.evidence.intervals.size());
  NarrowFigure figure(
      fmt::format("The interval by every method, {}", analysis.evidence.group.name),
      "One bar a method, over the zone between the thresholds of the verdict shown first; the dot "
      "is the fall. The table beside it holds the same numbers.");
  const Verdict& verdict = analysis.judgement.first_verdict();
  std::vector<double> falls;
  for (const Interval& interval : analysis.evidence.intervals)
    add_falls(falls, analysis.evidence.reduction, interval, verdict.expected);
  const FallAxis axis({NarrowFigure::margin + FallAxis::overhang, top,
                       NarrowFigure::full_width - 2 * (NarrowFigure::margin + FallAxis::overhang),
                       height},
                      fall_range(falls));
  draw_thresholds(figure.svg(), axis, top, top + height, verdict.lower, verdict.expected);
  double y = top;
  for (const Interval& interval : analysis.evidence.intervals) {
    add_label(figure.svg(), {NarrowFigure::margin, y + 12},
              fmt::format("{}{}", title(interval.method), interval.usable() ? "" : ": none"),
              Anchor::start);
    if (interval.usable())
      draw_interval(figure.svg(), axis, y + 23, analysis.evidence.reduction, interval);
    y += row_height;
  }
  axis.draw(figure.svg());
  return figure.finished(top + height + FallAxis::height_below);
}

} // namespace eggfall
