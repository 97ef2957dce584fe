#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>

namespace eggfall {

/// Lengths in the units of the view box, y downward.
struct SvgPoint {
  double x = 0;
  double y = 0;
};

struct SvgBox {
  double x = 0; ///< Of the top left corner.
  double y = 0;
  double width = 0;
  double height = 0;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
  double middle() const { return x + width / 2; }
};

/// With at most two decimals, so that the text is the same on every machine.
std::string svg_number(double value);

void set(pugi::xml_node node, const char* attribute, std::string_view value);
void set(pugi::xml_node node, const char* attribute, double value);

/// Shapes are appended to `parent` and take from it what they are not given.
pugi::xml_node add_group(pugi::xml_node parent, std::string_view name);
pugi::xml_node add_box(pugi::xml_node parent, const SvgBox& box, std::string_view fill);
pugi::xml_node add_line(pugi::xml_node parent, SvgPoint from, SvgPoint to);
pugi::xml_node add_dot(pugi::xml_node parent, SvgPoint centre, double radius);
pugi::xml_node add_text(pugi::xml_node parent, SvgPoint place, std::string_view text);

/// The text of `name` as a child of its own, for <title> and <desc>.
void add_words(pugi::xml_node parent, const char* name, std::string_view text);

/// An svg element with a role, and words for those who cannot see it.
pugi::xml_node add_svg(pugi::xml_document& document, std::string_view title,
                       std::string_view description);

std::string svg_text(const pugi::xml_document& document);

} // namespace eggfall
