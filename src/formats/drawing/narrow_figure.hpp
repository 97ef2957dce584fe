#pragma once

#include "formats/drawing/svg_drawing.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// A figure that is read on a phone as well as on paper: 360 units wide, and no text below 11.
class NarrowFigure {
public:
  static constexpr double width = 360;
  static constexpr double margin = 6;

  NarrowFigure(std::string_view title, std::string_view description);

  pugi::xml_node svg() const { return svg_; }

  /// The figure as an SVG document, so high.
  std::string finished(double height);

private:
  pugi::xml_document document_;
  pugi::xml_node svg_;
};

inline constexpr std::string_view ink = "#1a1a1a";
inline constexpr std::string_view quiet_ink = "#4d4d4d";
inline constexpr std::string_view rule_colour = "#b0b0b0";
inline constexpr std::string_view zone_colour = "#e4e0d6"; ///< Between two thresholds.
inline constexpr std::string_view deep_colour = "#14506b";
inline constexpr double text_size = 12;
inline constexpr double small_size = 11;

enum class Anchor { start, middle, end };

/// Text on a line of its own; `size` is the font's.
pugi::xml_node add_label(pugi::xml_node parent, SvgPoint at, std::string_view text, Anchor anchor,
                         double size = small_size);

/// A name cut to so many units, with three dots if it was longer.
std::string cut_to(std::string_view name, double units, double size = small_size);

/// A line with a colour and a width, and dashes if any are given.
pugi::xml_node add_rule(pugi::xml_node parent, SvgPoint from, SvgPoint to, std::string_view colour,
                        double line_width = 1, std::string_view dashes = "");

} // namespace eggfall
