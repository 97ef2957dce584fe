#include "report/figures/fall_axis.hpp"

#include "formats/drawing/narrow_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace eggfall {
namespace {

constexpr double near_end = 0.99; ///< The right end, where nothing drawn comes close to it.
constexpr double far_end = 0.9995;
constexpr std::array ends{-9.0, -4.0, -1.0, 0.0, 0.5, 0.8};
/// The first of them that find room are labelled.
constexpr std::array ticks{0.0,  0.9, 0.99,  0.5,  0.95,  -1.0, 0.98,
                           -9.0, 0.8, 0.999, -4.0, 0.995, 0.7};
constexpr double labels_apart = 5;
constexpr double small_ticks_apart = 2.5;

double left_of(double fall) {
  return std::log(std::max(1 - fall, 1e-12));
}

} // namespace

FallRange fall_range(const std::vector<double>& falls) {
  const double least = falls.empty() ? ends.back() : std::ranges::min(falls);
  FallRange range{ends.front(), far_end};
  for (const double candidate : ends)
    if (candidate <= least)
      range.least = candidate;
  if (falls.empty() || std::ranges::max(falls) < near_end - 0.005)
    range.most = near_end;
  return range;
}

FallAxis::FallAxis(const SvgBox& box, const FallRange& range)
    : box_(box), left_(left_of(range.least)), right_(left_of(range.most)) {}

double FallAxis::x_of(double fall) const {
  const double share = (left_of(fall) - left_) / (right_ - left_);
  return box_.x + box_.width * std::clamp(share, 0.0, 1.0);
}

double FallAxis::fall_at(double x) const {
  return 1 - std::exp(left_ + (right_ - left_) * (x - box_.x) / box_.width);
}

bool FallAxis::beyond_left(double fall) const {
  return left_of(fall) > left_ + 1e-9;
}

bool FallAxis::beyond_right(double fall) const {
  return left_of(fall) < right_;
}

void FallAxis::draw(pugi::xml_node parent) const {
  const double y = box_.bottom();
  add_rule(parent, {box_.x, y}, {box_.right(), y}, ink);
  struct Taken {
    double from;
    double to;
  };
  std::vector<Taken> taken;
  for (const double tick : ticks) {
    if (beyond_left(tick) || left_of(tick) < right_ - 1e-9)
      continue;
    const std::string label = fmt::format("{:g}%", 100 * tick);
    const double half = text_units(label) / 2;
    const double x = x_of(tick);
    const double middle = std::clamp(x, box_.x - overhang + half, box_.right() + overhang - half);
    const Taken wanted{middle - half, middle + half};
    if (std::ranges::any_of(taken, [&](const Taken& other) {
          return wanted.from < other.to + labels_apart && other.from < wanted.to + labels_apart;
        }))
      continue;
    taken.push_back(wanted);
    add_rule(parent, {x, y}, {x, y + 5}, ink);
    add_label(parent, {middle, y + 17}, label, Anchor::middle);
  }
  draw_small_ticks(parent);
  constexpr std::string_view title = "fall; the scale stretches towards 100%";
  const bool fits = text_units(title) <= box_.width + overhang;
  add_label(parent, {box_.right(), y + 31}, fits ? title : "fall, stretched to 100%", Anchor::end);
}

void FallAxis::draw_small_ticks(pugi::xml_node parent) const {
  // Eggs left of 100: 90, 80, ... 10, then 9, 8, ... 1, and so on down; never so many that they run
  // together.
  double last = box_.x - small_ticks_apart;
  for (double size = 1; size > 0.0001; size /= 10)
    for (int tenths = 10; tenths > 1; --tenths) {
      const double fall = 1 - size * tenths / 10;
      const double x = x_of(fall);
      if (beyond_left(fall) || left_of(fall) < right_ - 1e-9 || x < last + small_ticks_apart)
        continue;
      last = x;
      add_rule(parent, {x, box_.bottom()}, {x, box_.bottom() + 3}, ink, 0.7);
    }
}

void add_falls(std::vector<double>& falls, const std::optional<double>& fall,
               const Interval& interval, const std::optional<double>& expected) {
  for (const auto& value : {fall, interval.lower, interval.upper, expected})
    if (value)
      falls.push_back(*value);
}

std::string bar_outline(double y, const BarEnd& left, const BarEnd& right) {
  constexpr double end_height = 4;
  constexpr double arrow = 5;
  const auto end = [y](double x, double inwards) {
    return fmt::format("M{} {}L{} {}L{} {}", svg_number(x + inwards), svg_number(y - end_height),
                       svg_number(x), svg_number(y), svg_number(x + inwards),
                       svg_number(y + end_height));
  };
  return fmt::format("M{} {}H{}", svg_number(left.x), svg_number(y), svg_number(right.x)) +
         end(left.x, left.goes_on ? arrow : 0) + end(right.x, right.goes_on ? -arrow : 0);
}

std::string bar_outline(const FallAxis& axis, double y, const Interval& interval) {
  if (!interval.usable())
    return "";
  return bar_outline(y, {axis.x_of(*interval.lower), axis.beyond_left(*interval.lower)},
                     {axis.x_of(*interval.upper), axis.beyond_right(*interval.upper)});
}

pugi::xml_node add_bar(pugi::xml_node parent, std::string_view outline) {
  pugi::xml_node bar = parent.append_child("path");
  set(bar, "d", outline);
  set(bar, "fill", "none");
  set(bar, "stroke", ink);
  set(bar, "stroke-width", 2);
  return bar;
}

pugi::xml_node add_fall_dot(pugi::xml_node parent, SvgPoint place) {
  pugi::xml_node dot = add_dot(parent, place, 4.5);
  set(dot, "fill", deep_colour);
  set(dot, "stroke", paper_colour);
  return dot;
}

void draw_interval(pugi::xml_node parent, const FallAxis& axis, double y,
                   const std::optional<double>& fall, const Interval& interval) {
  pugi::xml_node group = add_group(parent, "interval");
  if (interval.usable())
    add_bar(group, bar_outline(axis, y, interval));
  if (fall)
    add_fall_dot(group, {axis.x_of(*fall), y});
}

void draw_thresholds(pugi::xml_node parent, const FallAxis& axis, double top, double bottom,
                     const std::optional<double>& lower, const std::optional<double>& expected) {
  if (lower && expected)
    add_box(parent,
            {axis.x_of(*lower), top, axis.x_of(*expected) - axis.x_of(*lower), bottom - top},
            zone_colour);
  if (lower)
    add_rule(parent, {axis.x_of(*lower), top}, {axis.x_of(*lower), bottom}, ink, 1.2, "2 3");
  if (expected)
    add_rule(parent, {axis.x_of(*expected), top}, {axis.x_of(*expected), bottom}, ink, 1.2, "7 3");
}

} // namespace eggfall
