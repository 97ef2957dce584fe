#include "report/figures/analysis_figures.hpp"

#include "base/text.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "judgement/eggs_left.hpp"
#include "report/farmer_words.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

constexpr double curve_height = 30;
constexpr double bar_lane = 20;
constexpr double name_line = 1.35 * text_size;
constexpr double rows_apart = 8;

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
    path += fmt::format("L{} {}", svg_number(x),
                        svg_number(box.bottom() - 2 * std::min(below, 1 - below) * box.height));
  }
  return path + fmt::format("L{} {}Z", svg_number(box.right()), svg_number(box.bottom()));
}

void draw_curve(pugi::xml_node parent, const GuardedLaw& law, const FallAxis& axis) {
  pugi::xml_node curve = parent.append_child("path");
  set(curve, "class", "agreement");
  set(curve, "d", path_of(law, axis));
  set(curve, "fill", soft_colour);
  set(curve, "stroke", deep_colour);
  set(curve, "stroke-width", 1.5);
}

SvgBox across(const NarrowFigure& figure, double top, double height) {
  const double left = NarrowFigure::margin + FallAxis::overhang;
  return {left, top, figure.width() - 2 * left, height};
}

/// "Failing: white; Works: clear and yellow".
std::string finding_of(const TrialAnalysis& trial) {
  if (trial.groups.size() == 1)
    return fmt::format("{}: {}", trial.groups.front().evidence.group.name,
                       standing_words(trial.groups.front().judgement.standing));
  std::vector<std::string> parts;
  // What must not be overlooked comes first.
  for (const DrenchSign sign :
       {DrenchSign::failing, DrenchSign::may_fail, DrenchSign::some_survive,
        DrenchSign::cannot_tell, DrenchSign::works_with_care, DrenchSign::works}) {
    std::vector<std::string> names;
    for (const GroupAnalysis& group : trial.groups)
      if (group.judgement.standing.sign == sign)
        names.push_back(group.evidence.group.name);
    if (!names.empty())
      parts.push_back(fmt::format("{}: {}", sign_words(sign),
                                  names.size() <= 3 ? in_words(names)
                                                    : fmt::format("{} drenches", names.size())));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

} // namespace

FallRange fall_range_of(const TrialAnalysis& trial) {
  std::vector<double> falls;
  for (const GroupAnalysis& group : trial.groups) {
    const DrenchFall fall = drench_fall(group.evidence, group.judgement);
    add_falls(falls, fall.reduction, fall.interval, group.judgement.first_verdict().expected);
  }
  return fall_range(falls);
}

CaptionedFigure falls_figure(const TrialAnalysis& trial) {
  NarrowFigure figure(
      fmt::format("Falls of all groups of trial {}", trial.trial),
      "For every group the fall as a dot and its interval as a bar, over the zone between the two "
      "thresholds of its verdict, and above them a curve, the higher the better that fall agrees "
      "with the counts. The table beside it holds the same numbers.");
  const double room = figure.right() - NarrowFigure::margin;
  const FallRange range = fall_range_of(trial);
  double y = 4;
  bool any_curve = false;
  for (const GroupAnalysis& group : trial.groups) {
    const Verdict& verdict = group.judgement.first_verdict();
    pugi::xml_node row = add_group(figure.svg(), "row");
    pugi::xml_node name =
        add_label(row, {NarrowFigure::margin, y + text_size},
                  cut_to(group.evidence.group.name, room, text_size), Anchor::start, text_size);
    set(name, "font-weight", "bold");
    y = add_paragraph(row, {NarrowFigure::margin, y + name_line}, verdict_words(group), room) + 3;
    const DrenchFall fall = drench_fall(group.evidence, group.judgement);
    any_curve = any_curve || fall.law != nullptr;
    const double height = (fall.law != nullptr ? curve_height : 0) + bar_lane;
    const FallAxis lane(across(figure, y, height), range);
    draw_thresholds(row, lane, y, y + height, verdict.lower, verdict.expected);
    if (fall.law != nullptr)
      draw_curve(row, *fall.law, FallAxis(across(figure, y, curve_height), range));
    draw_interval(row, lane, y + height - bar_lane / 2, fall.reduction, fall.interval);
    y += height + rows_apart;
  }
  FallAxis(across(figure, y - rows_apart, 4), range).draw(figure.svg());
  return {
      finding_of(trial), figure.finished(y - rows_apart + 4 + FallAxis::height_below),
      "Dot: the fall. Bar: its interval, with an arrow where it goes on. Curve: the higher, the "
      "better that fall agrees with the counts; at a tenth of its height the 90% interval "
      "ends. Tinted: between the lower threshold (dotted) and the expected fall (dashed)."};
}

} // namespace eggfall
