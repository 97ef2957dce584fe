#include "formats/drawing/captioned_figure.hpp"

#include "eggfall/base/error.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/narrow_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

namespace eggfall {
namespace {

constexpr double finding_size = 15;
constexpr double around = 8; ///< Of paper, beyond the figure's own margin.

struct Size {
  double width = 0;
  double height = 0;
};

Size size_of(pugi::xml_node svg) {
  std::istringstream box(svg.attribute("viewBox").value());
  double x = 0;
  double y = 0;
  Size size;
  if (!(box >> x >> y >> size.width >> size.height))
    throw CalculationError("a figure without a viewBox");
  return size;
}

} // namespace

std::string standing_alone(const CaptionedFigure& figure, std::string_view about,
                           std::string_view source) {
  pugi::xml_document drawing;
  if (!drawing.load_buffer(figure.svg.data(), figure.svg.size()))
    throw CalculationError("a figure that is no SVG");
  pugi::xml_node inner = drawing.document_element();
  const Size size = size_of(inner);
  // Words need room to be read, whatever the figure's own width.
  const double width = std::max(size.width, NarrowFigure::full_width) + 2 * around;
  NarrowFigure whole(fmt::format("{} ({})", figure.finding, about), inner.child_value("desc"),
                     width);
  const double room = width - 2 * (around + NarrowFigure::margin);
  SvgPoint place{around + NarrowFigure::margin, around};
  place.y = add_paragraph(whole.svg(), place, figure.finding, room, finding_size, "bold");
  place.y = add_paragraph(whole.svg(), place, about, room) + around / 2;
  pugi::xml_node copy = whole.svg().append_copy(inner);
  copy.remove_child("title");
  copy.remove_child("desc");
  copy.remove_attribute("role");
  set(copy, "x", (width - size.width) / 2);
  set(copy, "y", place.y);
  set(copy, "width", size.width);
  set(copy, "height", size.height);
  place.y += size.height + around / 2;
  place.y = add_paragraph(whole.svg(), place, figure.key, room);
  pugi::xml_node quiet = add_group(whole.svg(), "source");
  set(quiet, "fill", quiet_ink);
  place.y = add_paragraph(quiet, place, source, room);
  return whole.finished(place.y + around);
}

pugi::xml_node add_figure(pugi::xml_node parent, const CaptionedFigure& figure,
                          std::string_view css_class) {
  pugi::xml_node element = add_element(parent, "figure", "", css_class);
  if (!figure.finding.empty())
    add_element(element, "p", figure.finding, "finding");
  add_inked_svg(element, figure.svg);
  if (!figure.key.empty())
    add_element(element, "figcaption", figure.key);
  return element;
}

} // namespace eggfall
