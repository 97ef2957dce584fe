#pragma once

#include "eggfall/statistics/interval.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The falls at the two ends of an axis.
struct FallRange {
  double least = 0.8;
  double most = 0.99;
};

/// From a round number at or below the least of `falls`, but no less than -900% and no more than
/// 80%, to 99%, or to 99.95% where one comes close to 99%. Thresholds to be drawn are among
/// `falls`.
FallRange fall_range(const std::vector<double>& falls);

/// Falls from left to right by the logarithm of the share of eggs left, so that the scale stretches
/// towards 100%, where drenches are judged.
class FallAxis {
public:
  FallAxis(const SvgBox& box, const FallRange& range);

  const SvgBox& box() const { return box_; }

  /// Of a proportion; what lies beyond an end stands at it.
  double x_of(double fall) const;
  /// The fall that stands at a place in the box.
  double fall_at(double x) const;
  bool beyond_left(double fall) const;
  bool beyond_right(double fall) const;

  /// Ticks with as many labels below the box as have room, and a title below those. Labels reach
  /// up to `overhang` beyond the box.
  void draw(pugi::xml_node parent) const;
  static constexpr double overhang = 17;

  /// Height that draw() needs below the box.
  static constexpr double height_below = 34;

private:
  void draw_small_ticks(pugi::xml_node parent) const;

  SvgBox box_;
  double left_ = 0; ///< Log of the share left, at either end.
  double right_ = 0;
};

/// Falls that an axis should reach: everything that draw_interval() and draw_thresholds() draw.
void add_falls(std::vector<double>& falls, const std::optional<double>& fall,
               const Interval& interval, const std::optional<double>& expected);

/// Where a bar ends, with an arrow if what it stands for goes on beyond.
struct BarEnd {
  double x = 0;
  bool goes_on = false;
};

/// The outline (SVG's "d") of a bar from end to end.
std::string bar_outline(double y, const BarEnd& left, const BarEnd& right);

/// The outline (SVG's "d") of a bar from limit to limit, with an arrow where one lies beyond the
/// axis; empty without limits.
std::string bar_outline(const FallAxis& axis, double y, const Interval& interval);

/// The two parts that draw_interval() draws.
pugi::xml_node add_bar(pugi::xml_node parent, std::string_view outline);
pugi::xml_node add_fall_dot(pugi::xml_node parent, SvgPoint place);

/// A bar from limit to limit, and a dot at the fall.
void draw_interval(pugi::xml_node parent, const FallAxis& axis, double y,
                   const std::optional<double>& fall, const Interval& interval);

/// The thresholds over rows from `top` to `bottom`: the zone between them, a line at each.
void draw_thresholds(pugi::xml_node parent, const FallAxis& axis, double top, double bottom,
                     const std::optional<double>& lower, const std::optional<double>& expected);

} // namespace eggfall
