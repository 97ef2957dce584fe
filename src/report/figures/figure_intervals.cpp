#include "report/figures/analysis_figures.hpp"

#include "eggfall/base/percent.hpp"
#include "formats/drawing/narrow_figure.hpp"

#include <fmt/format.h>

namespace eggfall {

std::optional<CaptionedFigure> intervals_figure(const GroupAnalysis& analysis,
                                                const FallRange& range) {
  if (!analysis.evidence.design)
    return std::nullopt;
  constexpr double label_lane = 17;
  constexpr double lane_height = 16;
  NarrowFigure figure(
      fmt::format("The interval by every method, {}", analysis.evidence.group.name),
      "One bar a method, over the zone between the thresholds of the verdict shown first; the dot "
      "is the fall. The table beside it holds the same numbers.",
      NarrowFigure::panel_width);
  const Verdict& verdict = analysis.judgement.first_verdict();
  const double left = NarrowFigure::margin + FallAxis::overhang;
  const double width = figure.width() - 2 * left;
  double y = 2;
  for (const Interval& interval : analysis.evidence.intervals) {
    add_label(figure.svg(), {NarrowFigure::margin, y + 13},
              fmt::format("{}{}", title(interval.method), interval.usable() ? "" : ": none"),
              Anchor::start);
    y += label_lane;
    const FallAxis lane({left, y, width, lane_height}, range);
    draw_thresholds(figure.svg(), lane, y, y + lane_height, verdict.lower, verdict.expected);
    if (interval.usable())
      draw_interval(figure.svg(), lane, y + lane_height / 2, analysis.evidence.reduction, interval);
    y += lane_height;
  }
  FallAxis({left, y, width, 4}, range).draw(figure.svg());
  const Interval& headline = analysis.evidence.headline;
  return CaptionedFigure{
      fmt::format("{}: {}", analysis.evidence.group.name,
                  headline.usable() ? fmt::format("judged by {} to {}", percent(*headline.lower),
                                                  percent_of_limit(*headline.upper))
                                    : std::string("no interval to judge by")),
      figure.finished(y + 4 + FallAxis::height_below),
      "A bar is the interval by one method, with an arrow where it goes on; the dot is the fall. "
      "Tinted: between the lower threshold (dotted) and the expected fall (dashed)."};
}

} // namespace eggfall
