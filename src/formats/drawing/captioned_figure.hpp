#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>

namespace eggfall {

/// A figure and the words that belong to it: on a page they stand around it as text, in a file of
/// its own they are drawn with it.
struct CaptionedFigure {
  std::string finding; ///< What it shows here, in a sentence: its title.
  std::string svg;     ///< Of a NarrowFigure or drawn(), without those words.
  std::string key;     ///< How to read it.
};

/// The figure as a document that needs no page around it, ready for a slide: `about` (which trial,
/// which drench) and the finding above it, the key and `source` below.
/// @throws CalculationError if the figure is no SVG with a viewBox.
std::string standing_alone(const CaptionedFigure& figure, std::string_view about,
                           std::string_view source);

/// The figure on a page, in the page's inks; gives the figure's element. The finding is left out
/// where it is empty, and so is the key.
pugi::xml_node add_figure(pugi::xml_node parent, const CaptionedFigure& figure,
                          std::string_view css_class = "");

} // namespace eggfall
