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

/// The curve over the axis, closed at the bottom.
std::string path_of(const LogRatioDensity& density, const FallAxis& axis) {
  const std::vector<double>& heights = density.density();
  const double highest = std::ranges::max(heights);
  const SvgBox& box = axis.box();
  std::string path;
  double last_x = 0;
  for (std::size_t i = 0; i < heights.size(); ++i) {
    const double fall = 1 - std::exp(density.start() + static_cast<double>(i) * density.step());
    if (axis.beyond_left(fall) || axis.beyond_right(fall))
      continue;
    const double x = axis.at(fall);
    // eta runs from right to left.
    if (path.empty())
      path = fmt::format("M{} {}", svg_number(x), svg_number(box.bottom()));
    path += fmt::format("L{} {}", svg_number(x),
                        svg_number(box.bottom() - heights[i] / highest * (box.height - 4)));
    last_x = x;
  }
  return path.empty() ? path
                      : path + fmt::format("L{} {}Z", svg_number(last_x), svg_number(box.bottom()));
}

} // namespace

std::optional<std::string> posterior_figure(const GroupAnalysis& analysis) {
  if (!analysis.evidence.density)
    return std::nullopt;
  constexpr double top = 34;
  constexpr double height = 110;
  const Verdict& verdict = analysis.judgement.first_verdict();
  NarrowFigure figure(
      fmt::format("Where the true fall may lie, {}", analysis.evidence.group.name),
      fmt::format("The higher the curve, the likelier that fall; lines stand at the thresholds of "
                  "the verdict shown first{}.",
                  analysis.judgement.probabilities
                      ? ", and above them how much of the curve lies on each side"
                      : ""));
  const RatioLimits wide = analysis.evidence.density->limits(0.99);
  std::vector<double> falls{1 - wide.upper, 1 - wide.lower};
  if (verdict.expected)
    falls.push_back(*verdict.expected);
  const FallAxis axis(top, height, falls);
  draw_thresholds(figure.svg(), axis, top, top + height, verdict.lower, verdict.expected);
  pugi::xml_node curve = figure.svg().append_child("path");
  set(curve, "d", path_of(*analysis.evidence.density, axis));
  set(curve, "fill", deep_colour);
  set(curve, "fill-opacity", 0.25);
  set(curve, "stroke", deep_colour);
  set(curve, "stroke-width", 2);
  if (const auto& of = analysis.judgement.probabilities) {
    const double lower = axis.at(*verdict.lower);
    const double expected = axis.at(*verdict.expected);
    add_label(figure.svg(), {NarrowFigure::margin, 14},
              fmt::format("{} below {:g}%", share_text(of->below_lower), 100 * *verdict.lower),
              Anchor::start);
    add_label(figure.svg(), {NarrowFigure::width - NarrowFigure::margin, 14},
              fmt::format("{} at {:g}% or more", share_text(of->at_least_expected),
                          100 * *verdict.expected),
              Anchor::end);
    add_label(figure.svg(),
              {std::clamp((lower + expected) / 2, 70.0, NarrowFigure::width - 70), 28},
              fmt::format("{} between", share_text(of->between)), Anchor::middle);
  }
  axis.draw(figure.svg());
  return figure.finished(top + height + FallAxis::height_below);
}

} // namespace eggfall
