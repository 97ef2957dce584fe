#include "survey/survey_falls_figure.hpp"

#include "base/number_words.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "survey/standing_marks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace eggfall {
namespace {

constexpr double widest_pitch = 6;   ///< The greatest distance of lines without names.
constexpr double strip_height = 400; ///< The height that many lines share.
constexpr double mark_needs = 3.2;   ///< A pitch from which marks have shapes.
constexpr double strip_width = 12;

double fall_of(const SurveyRow& row) {
  return row.reduction.value_or(2);
}

std::size_t rows_with_falls(const FallsPanel& panel) {
  return static_cast<std::size_t>(std::ranges::count_if(
      panel.rows, [](const SurveyRow* row) { return row->reduction.has_value(); }));
}

std::size_t rows_with_falls(const std::vector<FallsPanel>& panels) {
  std::size_t rows = 0;
  for (const FallsPanel& panel : panels)
    rows += rows_with_falls(panel);
  return rows;
}

/// The length of a standing's mark: the worse, the longer, so that it is read in black print too.
double strip_share(VerdictClass standing) {
  switch (standing) {
  case VerdictClass::resistant:
    return 1;
  case VerdictClass::low_resistant:
    return 0.75;
  case VerdictClass::suspected:
  case VerdictClass::inconclusive:
    return 0.4;
  case VerdictClass::susceptible:
  case VerdictClass::not_applicable:
    break;
  }
  return 0;
}

std::string_view line_ink(VerdictClass standing) {
  switch (standing) {
  case VerdictClass::resistant:
  case VerdictClass::low_resistant:
    return resistant_colour;
  case VerdictClass::susceptible:
    return susceptible_colour;
  case VerdictClass::suspected:
  case VerdictClass::inconclusive:
  case VerdictClass::not_applicable:
    break;
  }
  return line_colour;
}

struct FallLane {
  const FallAxis& axis;
  double left; ///< Left edge of the strip of standings.
};

void draw_named_row(pugi::xml_node parent, const FallAxis& axis, double y, const SurveyRow& row) {
  if (row.interval && row.interval->usable())
    add_bar(parent, bar_outline(axis, y, *row.interval));
  if (axis.beyond_left(*row.reduction))
    add_rise_mark(parent, {axis.box().x, y});
  add_standing_mark(parent, {axis.x_of(*row.reduction), y}, row.standing.verdict_class, 4.5);
}

/// Lines so close that names have no room.
void draw_thin_rows(pugi::xml_node parent, const FallLane& lane, double top, double pitch,
                    const FallsPanel& panel) {
  std::map<std::string_view, std::string> limits;
  std::string strip;
  std::string dots;
  const pugi::xml_node lines = add_group(parent, "limits");
  const pugi::xml_node marks = add_group(parent, "falls");
  double y = top + pitch / 2;
  for (const SurveyRow* const row : panel.rows) {
    if (!row->reduction)
      continue;
    const VerdictClass standing = row->standing.verdict_class;
    if (row->interval && row->interval->usable())
      limits[line_ink(standing)] +=
          fmt::format("M{} {}H{}", svg_number(lane.axis.x_of(*row->interval->lower)), svg_number(y),
                      svg_number(lane.axis.x_of(*row->interval->upper)));
    const SvgPoint place{lane.axis.x_of(*row->reduction), y};
    if (lane.axis.beyond_left(*row->reduction))
      add_rise_mark(marks, place);
    if (pitch >= mark_needs)
      add_standing_mark(marks, place, standing, 2.2);
    else
      dots += fmt::format("M{} {}h0", svg_number(place.x), svg_number(place.y));
    if (const double share = strip_share(standing); share > 0)
      strip += fmt::format("M{} {}h{}", svg_number(lane.left), svg_number(y),
                           svg_number(share * strip_width));
    y += pitch;
  }
  const auto stroke = [](pugi::xml_node where, const std::string& path, std::string_view colour,
                         double width) {
    if (path.empty())
      return;
    pugi::xml_node node = where.append_child("path");
    set(node, "d", path);
    set(node, "fill", "none");
    set(node, "stroke", colour);
    set(node, "stroke-width", width);
  };
  for (const auto& [colour, path] : limits)
    stroke(lines, path, colour, std::clamp(0.6 * pitch, 0.3, 1.4));
  stroke(add_group(parent, "standings"), strip, ink, pitch + 0.05);
  if (!dots.empty()) {
    stroke(marks, dots, ink, 2.2);
    set(marks.last_child(), "stroke-linecap", "round");
  }
}

/// Of one panel: "26 groups: 3 open, 13 resistant, 10 susceptible".
std::string panel_finding(const FallsPanel& panel) {
  const auto standing = [&](std::initializer_list<VerdictClass> classes) {
    return std::ranges::count_if(panel.rows, [&](const SurveyRow* row) {
      return std::ranges::find(classes, row->standing.verdict_class) != classes.end();
    });
  };
  std::vector<std::string> parts;
  const auto add = [&](std::ptrdiff_t groups, std::string_view name) {
    if (groups > 0)
      parts.push_back(fmt::format("{} {}", groups, name));
  };
  add(standing({VerdictClass::not_applicable}), "without a class");
  add(standing({VerdictClass::inconclusive, VerdictClass::suspected}), "open");
  add(standing({VerdictClass::resistant}), "resistant");
  add(standing({VerdictClass::low_resistant}), "low resistant");
  add(standing({VerdictClass::susceptible}), "susceptible");
  return fmt::format("{}: {}", panel.name, fmt::join(parts, ", "));
}

FallRange range_of(const std::vector<FallsPanel>& panels) {
  std::vector<double> falls;
  for (const FallsPanel& panel : panels) {
    for (const SurveyRow* const row : panel.rows) {
      if (row->reduction)
        falls.push_back(*row->reduction);
      if (row->interval && row->interval->lower)
        falls.push_back(*row->interval->lower);
    }
    for (const auto& threshold : {panel.lower, panel.expected})
      if (threshold)
        falls.push_back(*threshold);
  }
  return survey_fall_range(falls);
}

CaptionedFigure panel_figure(const FallsPanel& panel, const FallRange& range, bool named) {
  NarrowFigure figure(fmt::format("Falls of the groups, {}", panel.name),
                      "A line a group: its fall as a mark and its interval as a bar, the least "
                      "fall at the top, over the zone between the thresholds. The table holds the "
                      "same numbers.");
  constexpr double name_lane = 16;
  constexpr double bar_height = 15;
  const std::size_t rows = rows_with_falls(panel);
  const double pitch =
      named ? name_lane + bar_height
            : std::clamp(strip_height / static_cast<double>(rows), 0.4, widest_pitch);
  const double height = pitch * static_cast<double>(rows);
  const double left =
      named ? NarrowFigure::margin + FallAxis::overhang : NarrowFigure::margin + strip_width + 8;
  const double right = figure.right() - FallAxis::overhang;
  constexpr double top = 4;
  const FallAxis axis({left, top, right - left, height}, range);
  if (named) {
    double y = top;
    for (const SurveyRow* const row : panel.rows) {
      if (!row->reduction)
        continue;
      pugi::xml_node group = add_group(figure.svg(), "row");
      add_label(group, {NarrowFigure::margin, y + 12},
                cut_to(row->trial + ": " + row->group.name, figure.right() - NarrowFigure::margin),
                Anchor::start);
      draw_thresholds(group, axis, y + name_lane, y + pitch, panel.lower, panel.expected);
      draw_named_row(group, axis, y + name_lane + bar_height / 2, *row);
      y += pitch;
    }
  } else {
    pugi::xml_node group = add_group(figure.svg(), "rows");
    draw_thresholds(group, axis, top, top + height, panel.lower, panel.expected);
    draw_thin_rows(group, {axis, NarrowFigure::margin}, top, pitch, panel);
  }
  FallAxis({left, top + height, right - left, 4}, range).draw(figure.svg());
  return {panel_finding(panel), figure.finished(top + height + 4 + FallAxis::height_below), ""};
}

} // namespace

std::vector<FallsPanel> falls_panels(const std::vector<SurveyRow>& rows, const Criteria& criteria) {
  using Key = std::tuple<std::string, double, double>;
  std::map<Key, FallsPanel> panels;
  std::map<std::string, int> of_class;
  constexpr double none = -1;
  for (const SurveyRow& row : rows) {
    const CutOff* const cut_off = choose_cut_off(criteria, row.group).cut_off;
    std::string classes = to_string(row.group.classes);
    if (classes.empty())
      classes = "class not given";
    const Key key{classes, cut_off != nullptr ? cut_off->expected : none,
                  cut_off != nullptr ? cut_off->lower.value_or(none) : none};
    const auto [entry, is_new] = panels.try_emplace(key);
    FallsPanel& panel = entry->second;
    if (is_new) {
      panel.name = classes;
      ++of_class[classes];
      if (cut_off != nullptr) {
        panel.expected = cut_off->expected;
        panel.lower = cut_off->lower;
      }
    }
    panel.rows.push_back(&row);
  }
  std::vector<FallsPanel> result;
  for (auto& [key, panel] : panels) {
    std::stable_sort(
        panel.rows.begin(), panel.rows.end(),
        [](const SurveyRow* a, const SurveyRow* b) { return fall_of(*a) < fall_of(*b); });
    if (!panel.expected)
      panel.name += ", no cut-off";
    else if (of_class[std::get<0>(key)] > 1)
      panel.name += fmt::format(", expected {:g}%{}", 100 * *panel.expected,
                                panel.lower ? fmt::format(", lower {:g}%", 100 * *panel.lower)
                                            : std::string());
    result.push_back(std::move(panel));
  }
  return result;
}

FallRange survey_fall_range(const std::vector<double>& falls) {
  FallRange range = fall_range(falls);
  range.least = std::max(range.least, 0.0);
  return range;
}

void add_rise_mark(pugi::xml_node parent, SvgPoint place) {
  pugi::xml_node arrow = parent.append_child("path");
  set(arrow, "d",
      fmt::format("M{} {}l-6 0m3 -3l-3 3l3 3", svg_number(place.x - 5), svg_number(place.y)));
  set(arrow, "fill", "none");
  set(arrow, "stroke", ink);
  set(arrow, "stroke-width", 1.2);
}

std::vector<CaptionedFigure> survey_falls_figures(const std::vector<FallsPanel>& panels) {
  std::vector<const FallsPanel*> largest;
  for (const FallsPanel& panel : panels)
    if (rows_with_falls(panel) > 0)
      largest.push_back(&panel);
  if (largest.size() > most_falls_panels) {
    std::stable_sort(largest.begin(), largest.end(), [](const FallsPanel* a, const FallsPanel* b) {
      return a->rows.size() > b->rows.size();
    });
    largest.resize(most_falls_panels);
  }
  const FallRange range = range_of(panels);
  const bool named = rows_with_falls(panels) <= most_named_groups;
  std::vector<CaptionedFigure> figures;
  for (const FallsPanel* const panel : largest)
    figures.push_back(panel_figure(*panel, range, named));
  return figures;
}

std::string survey_falls_key(const std::vector<FallsPanel>& panels) {
  const std::string judged = "Tinted: between the lower threshold (dotted) and the expected fall "
                             "(dashed). At the right end: 100%, no egg left. An arrow to the "
                             "left: it goes on below the axis, where counts rose.";
  if (rows_with_falls(panels) <= most_named_groups)
    return fmt::format("The mark is the fall, the bar its interval, with an arrow where it goes "
                       "on; the least fall of each class stands first. {} {}",
                       marks_key, judged);
  return fmt::format(
      "A line a group, the least fall at the top: the mark is the fall, the line its "
      "interval. At the left a solid strip: long, resistant (a little shorter: low "
      "resistant); short, open; none, susceptible or without a class. {}{}",
      judged,
      std::ranges::any_of(panels,
                          [](const FallsPanel& panel) {
                            return strip_height / widest_pitch >=
                                   static_cast<double>(rows_with_falls(panel));
                          })
          ? fmt::format(" Where marks have room: {}", marks_key)
          : std::string());
}

} // namespace eggfall
