#include "formats/drawing/narrow_figure.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

/// Mean width of a character by the size, on the safe side for the usual sans-serif fonts.
constexpr double character_width = 0.56;

} // namespace

NarrowFigure::NarrowFigure(std::string_view title, std::string_view description, double width)
    : svg_(add_svg(document_, title, description)), width_(width) {
  set(svg_, "style",
      fmt::format("font-family: Arial, 'Liberation Sans', Helvetica, sans-serif; fill: {}", ink));
}

std::string NarrowFigure::finished(double height) {
  set(svg_, "viewBox", fmt::format("0 0 {} {}", svg_number(width_), svg_number(height)));
  pugi::xml_node paper = svg_.insert_child_after("rect", svg_.child("desc"));
  set(paper, "width", width_);
  set(paper, "height", height);
  set(paper, "fill", paper_colour);
  return svg_text(document_);
}

pugi::xml_node add_label(pugi::xml_node parent, SvgPoint place, std::string_view text,
                         Anchor anchor, double size) {
  pugi::xml_node label = add_text(parent, place, text);
  set(label, "font-size", size);
  if (anchor != Anchor::start)
    set(label, "text-anchor", anchor == Anchor::middle ? "middle" : "end");
  return label;
}

std::string cut_to(std::string_view name, double units, double size) {
  const auto most =
      std::max<std::size_t>(4, static_cast<std::size_t>(units / (character_width * size)));
  if (character_count(name) <= most)
    return std::string(name);
  std::size_t bytes = 0;
  for (std::size_t characters = 0; bytes < name.size(); ++bytes) {
    const bool starts = (static_cast<unsigned char>(name[bytes]) & 0xC0U) != 0x80U;
    if (starts && ++characters > most - 3)
      break;
  }
  return std::string(name.substr(0, bytes)) + "...";
}

double text_units(std::string_view text, double size) {
  return character_width * size * static_cast<double>(character_count(text));
}

double add_paragraph(pugi::xml_node parent, SvgPoint top, std::string_view text, double units,
                     double size, std::string_view weight) {
  const double character = (weight == "bold" ? 1.06 : 1) * character_width * size;
  for (const std::string& line : wrapped(text, static_cast<std::size_t>(units / character))) {
    pugi::xml_node label = add_label(parent, {top.x, top.y + size}, line, Anchor::start, size);
    if (weight != "normal")
      set(label, "font-weight", weight);
    top.y += 1.35 * size;
  }
  return top.y;
}

pugi::xml_node add_rule(pugi::xml_node parent, SvgPoint from, SvgPoint to, std::string_view colour,
                        double line_width, std::string_view dashes) {
  pugi::xml_node line = add_line(parent, from, to);
  set(line, "stroke", colour);
  set(line, "stroke-width", line_width);
  if (!dashes.empty())
    set(line, "stroke-dasharray", dashes);
  return line;
}

} // namespace eggfall
