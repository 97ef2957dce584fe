#include "report/figures/analysis_figures.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "judgement/eggs_left.hpp"
#include "report/figures/fall_axis.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string forest_figure(const TrialAnalysis& trial) {
  constexpr double row_height = 44;
  constexpr double top = 8;
  const double height = row_height * static_cast<double>(trial.groups.size());
  NarrowFigure figure(
      fmt::format("Falls of all groups of trial {}", trial.trial),
      "For every group the fall as a dot and its interval as a bar, over the zone between the two "
      "thresholds of its verdict. The table beside it holds the same numbers.");
  std::vector<double> falls;
  for (const GroupAnalysis& group : trial.groups) {
    const DrenchFall fall = drench_fall(group);
    add_falls(falls, fall.reduction, fall.interval, group.judgement.first_verdict().expected);
  }
  const FallAxis axis({NarrowFigure::margin + FallAxis::overhang, top,
                       NarrowFigure::full_width - 2 * (NarrowFigure::margin + FallAxis::overhang),
                       height},
                      fall_range(falls));
  double y = top;
  for (const GroupAnalysis& group : trial.groups) {
    const Verdict& verdict = group.judgement.first_verdict();
    draw_thresholds(figure.svg(), axis, y, y + row_height, verdict.lower, verdict.expected);
    y += row_height;
  }
  y = top;
  for (const GroupAnalysis& group : trial.groups) {
    const std::string verdict = verdict_words(group);
    const double room = NarrowFigure::full_width - 2 * NarrowFigure::margin;
    pugi::xml_node name = add_label(figure.svg(), {NarrowFigure::margin, y + 14},
                                    cut_to(group.evidence.group.name, 0.45 * room, text_size),
                                    Anchor::start, text_size);
    set(name, "font-weight", "bold");
    add_label(figure.svg(), {NarrowFigure::full_width - NarrowFigure::margin, y + 14},
              cut_to(verdict, 0.5 * room), Anchor::end);
    const DrenchFall fall = drench_fall(group);
    draw_interval(figure.svg(), axis, y + 29, fall.reduction, fall.interval);
    y += row_height;
  }
  axis.draw(figure.svg());
  return figure.finished(top + height + FallAxis::height_below);
}

} // namespace eggfall
