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
constexpr double label_room = 30;

double left_of(double fall) {
  return std::log(std::max(1 - fall, 1e-12));
}

} // namespace

FallAxis::FallAxis(const SvgBox& box, const std::vector<double>& falls) : box_(box) {
  const double least = falls.empty() ? ends.back() : std::ranges::min(falls);
  double end = ends.front();
  for (const double candidate : ends)
    if (candidate <= least)
      end = candidate;
  left_ = left_of(end);
  const double greatest = falls.empty() ? 0 : std::ranges::max(falls);
  right_ = left_of(greatest < near_end - 0.005 ? near_end : far_end);
}

FallAxis::FallAxis(double top, double height, const std::vector<double>& falls)
    : FallAxis(
          SvgBox{NarrowFigure::margin, top, NarrowFigure::full_width - 2 * NarrowFigure::margin, height},
          falls) {}

double FallAxis::at(double fall) const {
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
  add_rule(parent, {box_.x, box_.bottom()}, {box_.right(), box_.bottom()}, ink);
  std::vector<double> taken;
  for (const double tick : ticks) {
    const double x = at(tick);
    if (beyond_left(tick) ||
        std::ranges::any_of(taken, [x](double other) { return std::abs(x - other) < label_room; }))
      continue;
    taken.push_back(x);
    add_rule(parent, {x, box_.bottom()}, {x, box_.bottom() + 4}, ink);
    const bool at_left = x < box_.x + 1 && box_.x < 20;
    add_label(parent, {x, box_.bottom() + 15}, fmt::format("{:g}%", 100 * tick),
              at_left ? Anchor::start : Anchor::middle);
  }
  add_label(parent, {box_.right(), box_.bottom() + 29}, "fall; the scale stretches towards 100%",
            Anchor::end);
}

void add_falls(std::vector<double>& falls, const std::optional<double>& fall,
               const Interval& interval, const std::optional<double>& expected) {
  for (const auto& value : {fall, interval.lower, interval.upper, expected})
    if (value)
      falls.push_back(*value);
}

std::string bar_outline(const FallAxis& axis, double y, const Interval& interval) {
  constexpr double end_height = 4;
  constexpr double arrow = 5;
  if (!interval.usable())
    return "";
  const auto end = [y](double x, double inwards) {
    return fmt::format("M{} {}L{} {}L{} {}", svg_number(x + inwards), svg_number(y - end_height),
                       svg_number(x), svg_number(y), svg_number(x + inwards),
                       svg_number(y + end_height));
  };
  const double from = axis.at(*interval.lower);
  const double to = axis.at(*interval.upper);
  return fmt::format("M{} {}H{}", svg_number(from), svg_number(y), svg_number(to)) +
         end(from, axis.beyond_left(*interval.lower) ? arrow : 0) +
         end(to, axis.beyond_right(*interval.upper) ? -arrow : 0);
}

pugi::xml_node add_bar(pugi::xml_node parent, std::string_view outline) {
  pugi::xml_node bar = parent.append_child("path");
  set(bar, "d", outline);
  set(bar, "fill", "none");
  set(bar, "stroke", ink);
  set(bar, "stroke-width", 2);
  return bar;
}

pugi::xml_node add_fall_dot(pugi::xml_node parent, SvgPoint at) {
  pugi::xml_node dot = add_dot(parent, at, 4.5);
  set(dot, "fill", deep_colour);
  set(dot, "stroke", "#ffffff");
  return dot;
}

void draw_interval(pugi::xml_node parent, const FallAxis& axis, double y,
                   const std::optional<double>& fall, const Interval& interval) {
  pugi::xml_node group = add_group(parent, "interval");
  if (interval.usable())
    add_bar(group, bar_outline(axis, y, interval));
  if (fall)
    add_fall_dot(group, {axis.at(*fall), y});
}

void draw_thresholds(pugi::xml_node parent, const FallAxis& axis, double top, double bottom,
                     const std::optional<double>& lower, const std::optional<double>& expected) {
  if (lower && expected)
    add_box(parent, {axis.at(*lower), top, axis.at(*expected) - axis.at(*lower), bottom - top},
            zone_colour);
  if (lower)
    add_rule(parent, {axis.at(*lower), top}, {axis.at(*lower), bottom}, ink, 1.2, "2 3");
  if (expected)
    add_rule(parent, {axis.at(*expected), top}, {axis.at(*expected), bottom}, ink, 1.2, "7 3");
}

} // namespace eggfall
