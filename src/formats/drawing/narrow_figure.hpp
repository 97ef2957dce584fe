#pragma once

#include "formats/drawing/inks.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <string>
#include <string_view>

namespace eggfall {

/// A figure that is read on a phone as well as on paper. One of the full width fills a phone of 360
/// pixels, so that a unit is a pixel there; no text is below 12.
class NarrowFigure {
public:
  static constexpr double full_width = 320;
  static constexpr double panel_width = 200; ///< Of one among several side by side.
  static constexpr double margin = 4;

  NarrowFigure(std::string_view title, std::string_view description, double width = full_width);

  pugi::xml_node svg() const { return svg_; }
  double width() const { return width_; }
  double right() const { return width_ - margin; }

  /// The figure as an SVG document, so high.
  std::string finished(double height);

private:
  pugi::xml_document document_;
  pugi::xml_node svg_;
  double width_;
};

inline constexpr double text_size = 13;
inline constexpr double small_size = 12; ///< No text is smaller.

enum class Anchor { start, middle, end };

/// Text on a line of its own; `size` is the font's.
pugi::xml_node add_label(pugi::xml_node parent, SvgPoint place, std::string_view text,
                         Anchor anchor, double size = small_size);

/// Units that a text needs, on the safe side for the usual sans-serif fonts.
double text_units(std::string_view text, double size = small_size);

/// A name cut to so many units, with three dots if it was longer.
std::string cut_to(std::string_view name, double units, double size = small_size);

/// Lines of text from `top` down, none wider than `units`; gives where the next would begin.
double add_paragraph(pugi::xml_node parent, SvgPoint top, std::string_view text, double units,
                     double size = small_size, std::string_view weight = "normal");

/// A line with a colour and a width, and dashes if any are given.
pugi::xml_node add_rule(pugi::xml_node parent, SvgPoint from, SvgPoint to, std::string_view colour,
                        double line_width = 1, std::string_view dashes = "");

} // namespace eggfall
