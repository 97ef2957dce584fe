#include "formats/drawing/svg_drawing.hpp"

#include "base/user_text.hpp"

#include <fmt/format.h>

#include <sstream>

namespace eggfall {

std::string svg_number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.')
    text.pop_back();
  return text == "-0" ? "0" : text;
}

void set(pugi::xml_node node, const char* attribute, std::string_view value) {
  pugi::xml_attribute found = node.attribute(attribute);
  if (!found)
    found = node.append_attribute(attribute);
  found.set_value(without_controls(value).c_str());
}

void set(pugi::xml_node node, const char* attribute, double value) {
  set(node, attribute, svg_number(value));
}

pugi::xml_node add_group(pugi::xml_node parent, std::string_view name) {
  pugi::xml_node group = parent.append_child("g");
  set(group, "class", name);
  return group;
}

pugi::xml_node add_box(pugi::xml_node parent, const SvgBox& box, std::string_view fill) {
  pugi::xml_node node = parent.append_child("rect");
  set(node, "x", box.x);
  set(node, "y", box.y);
  set(node, "width", box.width);
  set(node, "height", box.height);
  set(node, "fill", fill);
  return node;
}

pugi::xml_node add_line(pugi::xml_node parent, SvgPoint from, SvgPoint to) {
  pugi::xml_node node = parent.append_child("line");
  set(node, "x1", from.x);
  set(node, "y1", from.y);
  set(node, "x2", to.x);
  set(node, "y2", to.y);
  return node;
}

pugi::xml_node add_dot(pugi::xml_node parent, SvgPoint centre, double radius) {
  pugi::xml_node node = parent.append_child("circle");
  set(node, "cx", centre.x);
  set(node, "cy", centre.y);
  set(node, "r", radius);
  return node;
}

void add_words(pugi::xml_node parent, const char* name, std::string_view text) {
  parent.append_child(name).text().set(without_controls(text).c_str());
}

pugi::xml_node add_text(pugi::xml_node parent, SvgPoint place, std::string_view text) {
  add_words(parent, "text", text);
  pugi::xml_node node = parent.last_child();
  set(node, "x", place.x);
  set(node, "y", place.y);
  return node;
}

pugi::xml_node add_svg(pugi::xml_document& document, std::string_view title,
                       std::string_view description) {
  pugi::xml_node svg = document.append_child("svg");
  set(svg, "xmlns", "http://www.w3.org/2000/svg");
  set(svg, "role", "img");
  add_words(svg, "title", title);
  add_words(svg, "desc", description);
  return svg;
}

std::string svg_text(const pugi::xml_document& document) {
  std::ostringstream out;
  document.save(out, " ");
  return out.str();
}

} // namespace eggfall
