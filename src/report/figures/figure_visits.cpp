#include "report/figures/analysis_figures.hpp"

#include "base/date.hpp"
#include "eggfall/base/percent.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "report/visit_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr double names_width = 62; ///< Left of the axis, for the weeks.
constexpr double head_height = 20; ///< Above it, for what the threshold parts.
constexpr double rows_apart_least = 22;
constexpr double chart_height_most = 420;
constexpr double below_last = 16;

/// Days from top to bottom.
class DayScale {
public:
  /// `days` in order, at least one; the scale reaches to `last`.
  DayScale(const std::vector<int>& days, int last) : last_(last) {
    int nearest = days.front();
    for (std::size_t i = 1; i < days.size(); ++i)
      nearest = std::min(nearest, std::max(1, days[i] - days[i - 1]));
    a_day_ = std::min(std::max(2.0, rows_apart_least / nearest), chart_height_most / last_);
  }

  double y_of(int day) const { return head_height + 8 + a_day_ * day; }
  double bottom() const { return y_of(last_) + below_last; }

private:
  int last_;
  double a_day_ = 1;
};

std::vector<int> days_of(const std::vector<VisitFall>& visits) {
  std::vector<int> days;
  for (const VisitFall& visit : visits)
    if (visit.day)
      days.push_back(*visit.day);
  return days;
}

FallRange range_of(const GroupAnalysis& analysis, const std::optional<double>& threshold) {
  std::vector<double> falls;
  for (const VisitFall& visit : analysis.course.visits)
    if (visit.day)
      add_falls(falls, visit.reduction, visit.interval, threshold);
  return fall_range(falls);
}

/// The weeks in which eggs are expected back.
void draw_expected(pugi::xml_node parent, const SvgBox& chart, const DayScale& scale,
                   const ExpectedWeeks& weeks) {
  const double top = scale.y_of(days_a_week * weeks.first);
  const double bottom = scale.y_of(days_a_week * weeks.last);
  pugi::xml_node band = add_group(parent, "expected");
  add_box(band, {chart.x, top, chart.width, bottom - top}, zone_colour);
  for (const double y : {top, bottom})
    add_rule(band, {chart.x, y}, {chart.right(), y}, ink, 0.8, "1 3");
}

void draw_threshold(pugi::xml_node parent, const FallAxis& axis, double bottom, double threshold) {
  const double x = axis.x_of(threshold);
  add_rule(parent, {x, head_height - 4}, {x, bottom}, ink, 1.4, "7 3");
  const std::string back = fmt::format("below {:g}%: back", 100 * threshold);
  if (x - 5 - text_units(back) > NarrowFigure::margin)
    add_label(parent, {x - 5, head_height - 6}, back, Anchor::end);
  else
    add_label(parent, {x + 5, head_height - 6}, fmt::format("left of {:g}%: back", 100 * threshold),
              Anchor::start);
}

/// Words left of the axis, each where there is still room for it.
class DayNames {
public:
  DayNames(pugi::xml_node parent, double right) : parent_(parent), right_(right) {}

  void add(double y, std::string_view name, std::string_view weight = "normal",
           std::string_view colour = ink) {
    if (std::ranges::any_of(taken_, [&](double other) { return std::abs(other - y) < small_size; }))
      return;
    taken_.push_back(y);
    pugi::xml_node label = add_label(parent_, {right_, y + 4}, name, Anchor::end);
    set(label, "font-weight", weight);
    set(label, "fill", colour);
  }

private:
  pugi::xml_node parent_;
  double right_;
  std::vector<double> taken_;
};

/// The falls one after another, behind their marks.
void draw_course(pugi::xml_node parent, const FallAxis& axis, const DayScale& scale,
                 const std::vector<VisitFall>& visits) {
  std::optional<SvgPoint> last;
  for (const VisitFall& visit : visits) {
    if (!visit.day || !visit.reduction)
      continue;
    const SvgPoint here{axis.x_of(*visit.reduction), scale.y_of(*visit.day)};
    if (last)
      add_rule(parent, *last, here, deep_colour, 1.2);
    last = here;
  }
}

} // namespace

std::optional<CaptionedFigure> visits_figure(const GroupAnalysis& analysis) {
  const std::vector<VisitFall>& visits = analysis.course.visits;
  const std::vector<int> days = days_of(visits);
  if (days.empty() || !std::ranges::any_of(visits, [](const VisitFall& visit) {
        return visit.day && visit.reduction.has_value();
      }))
    return std::nullopt;
  const auto& reappearance = analysis.course.reappearance;
  const auto expected = reappearance ? reappearance->expected : std::nullopt;
  const auto threshold = reappearance ? std::optional(reappearance->threshold) : std::nullopt;
  const DayScale scale(days, std::max(days.back(), expected ? days_a_week * expected->last : 0));
  NarrowFigure figure(
      fmt::format("Falls of {} at each visit", analysis.evidence.group.name),
      "Time runs down the figure from the day of treatment. For every visit the fall since before "
      "treatment as a dot, and its interval as a bar. The table beside it holds the same numbers.");
  const double left = NarrowFigure::margin + names_width;
  const SvgBox chart{left, head_height, figure.right() - FallAxis::overhang - left,
                     scale.bottom() - head_height};
  const FallAxis axis(chart, range_of(analysis, threshold));
  if (expected)
    draw_expected(figure.svg(), chart, scale, *expected);
  add_rule(figure.svg(), {left, head_height}, {left, chart.bottom()}, ink);
  if (threshold)
    draw_threshold(figure.svg(), axis, chart.bottom(), *threshold);
  draw_course(figure.svg(), axis, scale, visits);
  DayNames names(add_group(figure.svg(), "days"), left - 7);
  for (const VisitFall& visit : visits) {
    if (!visit.day)
      continue;
    const double y = scale.y_of(*visit.day);
    pugi::xml_node row = add_group(figure.svg(), "visit");
    add_rule(row, {left - 4, y}, {left, y}, ink);
    names.add(y, visit_name(visit.day), visit.is_test ? "bold" : "normal");
    draw_interval(row, axis, y, visit.reduction, visit.interval);
  }
  names.add(scale.y_of(0), "drench", "normal", quiet_ink);
  if (expected) {
    for (const int week : {expected->first, expected->last})
      names.add(scale.y_of(days_a_week * week), visit_name(days_a_week * week), "normal",
                quiet_ink);
    names.add(
        (scale.y_of(days_a_week * expected->first) + scale.y_of(days_a_week * expected->last)) / 2,
        "expected", "normal", quiet_ink);
  }
  axis.draw(figure.svg());
  std::string key = "Downwards: time since treatment; the visit that the test was judged on is in "
                    "bold. Dot: the fall since before treatment. Bar: its interval, with an arrow "
                    "where it goes on.";
  if (threshold)
    key += " Dashed: falls left of it count as eggs back.";
  if (expected)
    key += fmt::format(" Tinted: weeks {} to {}, in which eggs are expected back after {} ({}).",
                       expected->first, expected->last, expected->known_for,
                       whence(expected->citation));
  return CaptionedFigure{visits_finding(analysis),
                         figure.finished(chart.bottom() + FallAxis::height_below), key};
}

} // namespace eggfall
