#include "survey/standing_marks.hpp"

#include "formats/drawing/inks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace eggfall {
namespace {

pugi::xml_node add_lines(pugi::xml_node parent, const std::string& path) {
  pugi::xml_node lines = parent.append_child("path");
  set(lines, "class", "hatching");
  set(lines, "d", path);
  set(lines, "fill", "none");
  set(lines, "stroke", ink);
  set(lines, "stroke-width", 1);
  return lines;
}

std::string upright_lines(const SvgBox& box) {
  constexpr double apart = 3.5;
  std::string path;
  for (double x = box.x + apart; x < box.right(); x += apart)
    path += fmt::format("M{} {}V{}", svg_number(x), svg_number(box.y), svg_number(box.bottom()));
  return path;
}

/// At 45 degrees, each cut to the box.
std::string slanted_lines(const SvgBox& box) {
  constexpr double apart = 6;
  std::string path;
  for (double start = box.x - box.height + apart / 2; start < box.right(); start += apart) {
    const double from = std::max(start, box.x);
    const double to = std::min(start + box.height, box.right());
    if (to > from)
      path +=
          fmt::format("M{} {}L{} {}", svg_number(from), svg_number(box.bottom() - (from - start)),
                      svg_number(to), svg_number(box.bottom() - (to - start)));
  }
  return path;
}

bool is_square(VerdictClass standing) {
  return standing == VerdictClass::resistant || standing == VerdictClass::low_resistant;
}

bool is_solid(VerdictClass standing) {
  return standing == VerdictClass::resistant || standing == VerdictClass::susceptible;
}

} // namespace

std::string_view standing_colour(VerdictClass standing) {
  switch (standing) {
  case VerdictClass::susceptible:
    return susceptible_colour;
  case VerdictClass::low_resistant:
    return low_resistant_colour;
  case VerdictClass::resistant:
    return resistant_colour;
  case VerdictClass::suspected:
    return suspected_colour;
  case VerdictClass::inconclusive:
    return inconclusive_colour;
  case VerdictClass::not_applicable:
    break;
  }
  return paper_colour;
}

void add_standing_mark(pugi::xml_node parent, SvgPoint place, VerdictClass standing,
                       double radius) {
  if (standing == VerdictClass::not_applicable) {
    pugi::xml_node cross = parent.append_child("path");
    const double r = radius * 0.8;
    set(cross, "d",
        fmt::format("M{0} {1}L{2} {3}M{0} {3}L{2} {1}", svg_number(place.x - r),
                    svg_number(place.y - r), svg_number(place.x + r), svg_number(place.y + r)));
    set(cross, "stroke", ink);
    set(cross, "stroke-width", 1.4);
    return;
  }
  // The inks of marks stand out from the paper 3 to 1, which those of areas need not.
  const std::string_view colour = is_square(standing)                     ? resistant_colour
                                  : standing == VerdictClass::susceptible ? susceptible_colour
                                                                          : ink;
  pugi::xml_node mark =
      is_square(standing)
          ? add_box(parent, {place.x - radius, place.y - radius, 2 * radius, 2 * radius},
                    paper_colour)
          : add_dot(parent, place, radius);
  set(mark, "fill", is_solid(standing) ? colour : paper_colour);
  set(mark, "stroke", colour);
  set(mark, "stroke-width", radius < 3 ? 1.0 : 1.6);
}

void add_standing_box(pugi::xml_node parent, const SvgBox& box, VerdictClass standing) {
  const bool none = standing == VerdictClass::not_applicable;
  const bool outline = none || standing == VerdictClass::susceptible;
  pugi::xml_node node = add_box(parent, box, outline ? paper_colour : standing_colour(standing));
  set(node, "stroke", none ? line_colour : ink);
  set(node, "stroke-width", 1);
  if (none)
    set(node, "stroke-dasharray", "3 3");
  if (standing == VerdictClass::low_resistant)
    add_lines(parent, upright_lines(box));
  if (standing == VerdictClass::inconclusive || standing == VerdictClass::suspected)
    add_lines(parent, slanted_lines(box));
}

} // namespace eggfall
