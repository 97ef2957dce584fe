#include "plan/visits_figure.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "plan/field_sheet_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr double day0_x = 14;
constexpr double last_x = 306;
constexpr double dot_radius = 5;
constexpr double bar_height = 9;
constexpr double lane_height = 51;
constexpr double heads_height = 62; ///< Above the lanes: the two visits.
constexpr int least_days = 15;      ///< On the line of days, so that a short one is not stretched.

/// Where days stand.
struct DayScale {
  int last = least_days;

  double x(double day) const { return day0_x + day * (last_x - day0_x) / last; }
};

/// What a group does, in a lane of its own.
struct Lane {
  std::string name;
  std::string day0;                   ///< What is done to it on day 0.
  const SecondSample* days = nullptr; ///< Its own; none of the control.
};

DayScale scale_of(const FieldSheets& sheets) {
  DayScale scale;
  for (const SecondSample& sample : sheets.second_samples)
    scale.last = std::max({scale.last, sample.last_day + 1, sample.usual.last_day + 1});
  return scale;
}

std::vector<Lane> lanes_of(const FieldSheets& sheets) {
  std::vector<Lane> lanes;
  for (std::size_t i = 0; i < sheets.question.groups.size(); ++i) {
    const PlannedGroup& group = sheets.question.groups[i];
    const auto days = std::ranges::find(sheets.second_samples, i, &SecondSample::group);
    const std::string treatment = treatment_text(group);
    lanes.push_back({treatment.empty() ? group.name : fmt::format("{}: {}", group.name, treatment),
                     group.treated() ? "sampled, drenched" : "sampled, NO DRENCH",
                     days == sheets.second_samples.end() ? nullptr : &*days});
  }
  return lanes;
}

/// A label centred on `x`, moved inwards as far as the paper asks for.
void add_label_at(pugi::xml_node svg, double x, double y, std::string_view text) {
  const double half = text_units(text) / 2;
  const double most = NarrowFigure::full_width - NarrowFigure::margin - half;
  add_label(svg, {std::max(NarrowFigure::margin + half, std::min(x, most)), y}, text,
            Anchor::middle);
}

/// Solid: drenched; a ring: not.
void draw_day0(pugi::xml_node svg, SvgPoint place, bool drenched) {
  pugi::xml_node dot = add_dot(svg, place, dot_radius);
  set(dot, "fill", drenched ? ink : paper_colour);
  set(dot, "stroke", ink);
  set(dot, "stroke-width", 2);
}

/// Days as a bar; striped where the second visit is not on one of them.
void draw_days(pugi::xml_node svg, const DayScale& scale, double y, int first, int last,
               bool striped) {
  constexpr double half_a_day = 0.4;
  const double left = scale.x(first - half_a_day);
  const double right = scale.x(last + half_a_day);
  if (striped)
    set(add_rule(svg, {left, y}, {right, y}, deep_colour, bar_height, "2 3"), "class", "striped");
  pugi::xml_node box = add_box(svg, {left, y - bar_height / 2, right - left, bar_height},
                               striped ? std::string_view("none") : deep_colour);
  set(box, "stroke", deep_colour);
}

/// What the label before the dates says, and the dates; parted at the colon.
struct DayLabel {
  std::string days;
  std::string dates;
};

DayLabel parted(const std::string& text) {
  const std::size_t colon = text.find(": ");
  return colon == std::string::npos ? DayLabel{text, {}}
                                    : DayLabel{text.substr(0, colon), text.substr(colon + 2)};
}

void draw_visits(pugi::xml_node svg, const FieldSheets& sheets) {
  const auto& day0 = sheets.question.day0;
  const SecondSample& second = sheets.second_samples.front();
  const DayLabel first = parted(days_with_dates(day0, 0, 0));
  const DayLabel again = parted(days_with_dates(day0, second.first_day, second.last_day));
  const double right = NarrowFigure::full_width - NarrowFigure::margin;
  const auto column = [&](double x, Anchor anchor, const DayLabel& label, std::string_view what) {
    double y = text_size;
    set(add_label(svg, {x, y}, capitalised(label.days), anchor, text_size), "font-weight", "bold");
    if (!label.dates.empty())
      add_label(svg, {x, y += 16}, label.dates, anchor);
    add_label(svg, {x, y + 16}, what, anchor);
  };
  column(NarrowFigure::margin, Anchor::start, first, "sample all, then drench");
  column(right, Anchor::end, again, "sample all again");
}

void draw_lane(pugi::xml_node svg, const FieldSheets& sheets, const DayScale& scale,
               const Lane& lane, double top) {
  const SecondSample& second = sheets.second_samples.front();
  const double right = NarrowFigure::full_width - NarrowFigure::margin;
  add_rule(svg, {NarrowFigure::margin, top}, {right, top}, rule_colour);
  const double status = text_units(lane.day0) + 8;
  set(add_label(svg, {NarrowFigure::margin, top + 14},
                cut_to(lane.name, right - NarrowFigure::margin - status), Anchor::start),
      "font-weight", "bold");
  add_label(svg, {right, top + 14}, lane.day0, Anchor::end);
  const double y = top + 26;
  add_rule(svg, {scale.x(0), y}, {scale.x(scale.last), y}, rule_colour);
  draw_day0(svg, {scale.x(0), y}, lane.days != nullptr);
  const double middle = lane.days == nullptr
                            ? (second.first_day + second.last_day) / 2.0
                            : (lane.days->usual.first_day + lane.days->usual.last_day) / 2.0;
  if (lane.days == nullptr) {
    for (const SecondSample& sample : sheets.second_samples)
      if (sample.off_its_days())
        draw_days(svg, scale, y, sample.usual.first_day, sample.usual.last_day, true);
    draw_days(svg, scale, y, second.first_day, second.last_day, false);
    add_label_at(svg, scale.x(middle), top + 43, "with the others");
    return;
  }
  const UsualDays& usual = lane.days->usual;
  draw_days(svg, scale, y, usual.first_day, usual.last_day, lane.days->off_its_days());
  add_label_at(svg, scale.x(middle), top + 43,
               days_with_dates(sheets.question.day0, usual.first_day, usual.last_day));
}

void draw_axis(pugi::xml_node svg, const DayScale& scale, double top) {
  add_rule(svg, {scale.x(0), top}, {scale.x(scale.last), top}, ink);
  for (int day = 0; day <= scale.last; day += days_a_week) {
    add_rule(svg, {scale.x(day), top}, {scale.x(day), top + 5}, ink);
    add_label(svg, {scale.x(day), top + 18}, fmt::format("{}", day), Anchor::middle);
  }
  add_label(svg, {last_x, top + 33}, "days after treatment", Anchor::end);
}

std::string visits_in_words(const FieldSheets& sheets, const std::vector<Lane>& lanes) {
  const auto& day0 = sheets.question.day0;
  const SecondSample& second = sheets.second_samples.front();
  std::string text = capitalised(days_with_dates(day0, 0, 0)) + ":";
  for (const Lane& lane : lanes)
    text += fmt::format(" {}, {};", lane.name, lane.day0);
  text.back() = '.';
  text += fmt::format(" {}: all are sampled again.",
                      capitalised(days_with_dates(day0, second.first_day, second.last_day)));
  for (const Lane& lane : lanes)
    if (lane.days != nullptr)
      text +=
          fmt::format(" Usual for {}: {}{}.", lane.name,
                      days_with_dates(day0, lane.days->usual.first_day, lane.days->usual.last_day),
                      lane.days->off_its_days() ? ", not when all are sampled" : "");
  for (const ExtraVisit& visit : extra_visits(sheets))
    text += fmt::format(" {} once more, if you can: {}.", capitalised(visit.who), visit.days);
  return text;
}

} // namespace

CaptionedFigure visits_figure(const FieldSheets& sheets) {
  const std::vector<Lane> lanes = lanes_of(sheets);
  const DayScale scale = scale_of(sheets);
  const auto& day0 = sheets.question.day0;
  CaptionedFigure figure;
  const SecondSample& second = sheets.second_samples.front();
  const DayLabel again = parted(days_with_dates(day0, second.first_day, second.last_day));
  figure.finding = fmt::format("All are sampled twice: on day 0{}, and again on {}{}.",
                               day0 ? ", " + date_in_words(*day0) : "", again.days,
                               again.dates.empty() ? "" : ", " + again.dates);
  for (const ExtraVisit& visit : extra_visits(sheets)) {
    const DayLabel days = parted(visit.days);
    figure.finding.back() = ';';
    figure.finding += fmt::format(" {} once more, if you can, on {}{}.", visit.who, days.days,
                                  days.dates.empty() ? "" : ", " + days.dates);
  }
  NarrowFigure drawing(figure.finding, visits_in_words(sheets, lanes));
  draw_visits(drawing.svg(), sheets);
  double top = heads_height - (day0 ? 0 : 16);
  for (const Lane& lane : lanes) {
    draw_lane(drawing.svg(), sheets, scale, lane, top);
    top += lane_height;
  }
  draw_axis(drawing.svg(), scale, top + 4);
  figure.svg = drawing.finished(top + 42);
  const bool striped = std::ranges::any_of(sheets.second_samples, &SecondSample::off_its_days);
  figure.key = std::string("Solid dot: sampled, then drenched. ") +
               (sheets.question.has_control() ? "Ring: sampled, no drench. " : "") +
               "Bar: the days usual for a second sample after this drench" +
               (striped ? "; striped where the common day misses them: sample that group on its "
                          "own days as well, if you can, and any control with it."
                        : ".");
  return figure;
}

} // namespace eggfall
