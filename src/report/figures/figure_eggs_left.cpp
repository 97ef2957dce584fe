#include "report/figures/analysis_figures.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "judgement/eggs_left.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

constexpr int all_eggs = 100;
constexpr int rows = 5; ///< Eggs fill column after column, so that a column is five of them.
constexpr double column_width =
    (NarrowFigure::full_width - 2 * NarrowFigure::margin) * rows / all_eggs;
constexpr double row_height = 13;
constexpr double tray_top = 6;
constexpr double bottom = tray_top + rows * row_height;

SvgPoint centre_of(int egg) {
  const int column = egg / rows;
  const int row = egg % rows;
  return {NarrowFigure::margin + (column + 0.5) * column_width,
          tray_top + (row + 0.5) * row_height};
}

/// Full: left at the least, allowing for luck; a dot inside: perhaps left; an outline: gone.
void draw_egg(pugi::xml_node parent, int egg, int surely, int perhaps) {
  const SvgPoint centre = centre_of(egg);
  pugi::xml_node oval = parent.append_child("ellipse");
  set(oval, "cx", centre.x);
  set(oval, "cy", centre.y);
  set(oval, "rx", 6.5);
  set(oval, "ry", 4.6);
  set(oval, "stroke", egg < perhaps ? ink : rule_colour);
  set(oval, "fill", egg < surely ? deep_colour : paper_colour);
  if (egg >= surely && egg < perhaps)
    set(add_dot(parent, centre, 2.2), "fill", ink);
}

/// A mark under the eggs that a drench may leave.
void draw_limit(pugi::xml_node parent, double eggs, std::string_view dashes) {
  const double x = NarrowFigure::margin + eggs / rows * column_width;
  add_rule(parent, {x, tray_top - 4}, {x, bottom + 5}, ink, 1.5, dashes);
  add_label(parent, {x, bottom + 17}, fmt::format("{:.3g}", eggs), Anchor::middle);
}

} // namespace

std::optional<std::string> eggs_left_figure(const GroupAnalysis& analysis) {
  const auto left = eggs_left(analysis);
  if (!left)
    return std::nullopt;
  const auto whole = [](double eggs) {
    return static_cast<int>(std::clamp(std::round(eggs), 0.0, 100.0));
  };
  const int surely = whole(left->least.value_or(left->found));
  const double most = left->most.value_or(left->found);
  const int perhaps = std::max(whole(most), most > 0 ? 1 : 0);
  NarrowFigure figure(
      fmt::format("Of 100 eggs, those left after {}", analysis.evidence.group.name),
      fmt::format("A tray of 100 eggs, filled from the left. Allowing for luck, {} are left at the "
                  "least, {} more may be left, and {} are gone.",
                  surely, perhaps - surely, all_eggs - perhaps));
  pugi::xml_node eggs = add_group(figure.svg(), "eggs");
  for (int egg = 0; egg < all_eggs; ++egg)
    draw_egg(eggs, egg, surely, perhaps);
  const Verdict& verdict = analysis.judgement.first_verdict();
  if (verdict.expected)
    draw_limit(figure.svg(), 100 * (1 - *verdict.expected), "7 3");
  if (verdict.lower)
    draw_limit(figure.svg(), 100 * (1 - *verdict.lower), "2 3");
  return figure.finished(bottom + 22);
}

} // namespace eggfall
