#include "report/figures/analysis_figures.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "report/figures/fall_axis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// "72%", never 0% or 100%.
std::string share_text(double share) {
  if (share < 0.005)
    return "under 1%";
  return share > 0.995 ? "over 99%" : fmt::format("{:.0f}%", 100 * share);
}

/// 2 min(G, 1 - G) over the axis, closed at the bottom: what is left of 100 chances beyond a fall
/// on its doubtful side, counted on both. It is 1 between the witnesses' medians, and a level L of
/// it lies at the limits of 1 - L.
std::string path_of(const GuardedLaw& law, const FallAxis& axis) {
  const SvgBox& box = axis.box();
  constexpr int points = 240;
  std::string path = fmt::format("M{} {}", svg_number(box.x), svg_number(box.bottom()));
  for (int i = 0; i <= points; ++i) {
    const double x = box.x + box.width * i / points;
    const double below = law.probability_efficacy_below(std::min(axis.fall_at(x), 1.0));
    path +=
        fmt::format("L{} {}", svg_number(x),
                    svg_number(box.bottom() - 2 * std::min(below, 1 - below) * (box.height - 4)));
  }
  return path + fmt::format("L{} {}Z", svg_number(box.right()), svg_number(box.bottom()));
}

} // namespace

std::optional<std::string> posterior_figure(const GroupAnalysis& analysis) {
  if (!analysis.evidence.law)
    return std::nullopt;
  constexpr double top = 34;
  constexpr double height = 110;
  const Verdict& verdict = analysis.judgement.first_verdict();
  // Those of the drench's own fall are of another curve.
  const bool with_chances = analysis.judgement.probabilities && !analysis.judgement.own_fall;
  NarrowFigure figure(
      fmt::format("Where the true fall may lie, {}", analysis.evidence.group.name),
      fmt::format("The higher the curve, the better that fall agrees with the counts, by the most "
                  "doubtful of three witnesses; where it is a tenth as high as at its top, the 90% "
                  "interval ends. Lines stand at the thresholds of the verdict shown first{}.",
                  with_chances ? ", and above them the chances of a fall on each side" : ""));
  const RatioLimits wide = analysis.evidence.law->limits(0.99);
  std::vector<double> falls{1 - wide.upper, 1 - wide.lower};
  if (verdict.expected)
    falls.push_back(*verdict.expected);
  const FallAxis axis({NarrowFigure::margin + FallAxis::overhang, top,
                       NarrowFigure::full_width - 2 * (NarrowFigure::margin + FallAxis::overhang),
                       height},
                      fall_range(falls));
  draw_thresholds(figure.svg(), axis, top, top + height, verdict.lower, verdict.expected);
  pugi::xml_node curve = figure.svg().append_child("path");
  set(curve, "d", path_of(*analysis.evidence.law, axis));
  set(curve, "fill", deep_colour);
  set(curve, "fill-opacity", 0.25);
  set(curve, "stroke", deep_colour);
  set(curve, "stroke-width", 2);
  if (with_chances) {
    const auto& of = analysis.judgement.probabilities;
    const double lower = axis.at(*verdict.lower);
    const double expected = axis.at(*verdict.expected);
    add_label(figure.svg(), {NarrowFigure::margin, 14},
              fmt::format("{} below {:g}%", share_text(of->below_lower), 100 * *verdict.lower),
              Anchor::start);
    add_label(figure.svg(), {NarrowFigure::full_width - NarrowFigure::margin, 14},
              fmt::format("{} at {:g}% or more", share_text(of->at_least_expected),
                          100 * *verdict.expected),
              Anchor::end);
    add_label(figure.svg(),
              {std::clamp((lower + expected) / 2, 70.0, NarrowFigure::full_width - 70), 28},
              fmt::format("{} between", share_text(of->between)), Anchor::middle);
  }
  axis.draw(figure.svg());
  return figure.finished(top + height + FallAxis::height_below);
}

} // namespace eggfall
