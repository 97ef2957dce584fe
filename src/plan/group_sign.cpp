#include "plan/group_sign.hpp"

#include "formats/drawing/inks.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

namespace eggfall {
namespace {

/// A shape in a box of 40 by 40, and a mark on an animal that is 64 long and 36 wide, its head to
/// the right. Both are data of SVG paths.
struct SignForm {
  std::string_view shape;
  std::string_view outline;
  std::string_view mark;
  std::string_view stripes;
};

/// In the order in which groups get them: those least like each other first. Where a mark sits is
/// told by its words too, and no two of the first three share a place.
constexpr std::array<SignForm, 7> solid_forms{{
    {"square", "M5 5h30v30h-30z", "stripe across the rump", "M13 8V28"},
    {"triangle", "M20 2L39 37H1z", "stripe across the shoulders", "M43 7V29"},
    {"cross", "M14 2h12v12h12v12h-12v12h-12v-12h-12v-12h12z", "stripe along the back", "M9 18H47"},
    {"diamond", "M20 0L35 20L20 40L5 20z", "two stripes across the rump", "M11 9V27M19 6V30"},
    {"star",
     "M20 1L24.49 14.82L39.02 14.82L27.27 23.36L31.76 37.18L20 28.64L8.24 37.18L12.73 23.36L0.98 "
     "14.82L15.51 14.82z",
     "two stripes across the shoulders", "M37 6V30M45 8V28"},
    {"bar", "M1 13h38v14h-38z", "stripes across rump and shoulders", "M13 8V28M43 7V29"},
    {"moon", "M28 2A18.5 18.5 0 1 0 28 38A20 20 0 0 1 28 2z", "stripe along each side",
     "M14 9H42M14 27H42"},
}};

constexpr std::string_view ring_word = "ring";
constexpr std::string_view spot_words = "spot on the back";

pugi::xml_node add_path(pugi::xml_node parent, std::string_view data) {
  pugi::xml_node path = parent.append_child("path");
  set(path, "d", data);
  return path;
}

/// A drawing beside words that say the same, so that screen readers pass over it.
pugi::xml_node add_silent_svg(pugi::xml_document& document, std::string_view css_class) {
  pugi::xml_node svg = document.append_child("svg");
  set(svg, "xmlns", "http://www.w3.org/2000/svg");
  set(svg, "class", css_class);
  set(svg, "aria-hidden", "true");
  return svg;
}

/// `number` stands beside a shape that has been given before; 1 is not shown.
std::string drawn_shape(const SignForm* form, std::size_t number) {
  pugi::xml_document document;
  pugi::xml_node svg = add_silent_svg(document, "sign");
  set(svg, "viewBox", "0 0 40 40");
  if (form == nullptr) {
    pugi::xml_node ring = add_dot(svg, {20, 20}, 15.5);
    set(ring, "fill", "none");
    set(ring, "stroke", ink);
    set(ring, "stroke-width", 6);
    return svg_text(document);
  }
  pugi::xml_node path = add_path(svg, form->outline);
  set(path, "fill", ink);
  if (number > 1) {
    set(path, "transform", "scale(0.66)");
    pugi::xml_node text = add_text(svg, {40, 39}, fmt::format("{}", number));
    set(text, "font-size", 20);
    set(text, "font-weight", "bold");
    set(text, "text-anchor", "end");
    set(text, "fill", ink);
  }
  return svg_text(document);
}

std::string drawn_mark(const SignForm* form, std::size_t number) {
  pugi::xml_document document;
  pugi::xml_node svg = add_silent_svg(document, "marked");
  set(svg, "viewBox", "0 0 64 36");
  pugi::xml_node animal =
      add_path(svg, "M50 11C53 8 57 11 62 15Q64 18 62 21C57 25 53 28 50 25C44 33 10 33 5 24Q1 18 5 "
                    "12C10 3 44 3 50 11zM5 18H1M52 10L50 5M52 26L50 31");
  set(animal, "fill", "none");
  set(animal, "stroke", ink);
  set(animal, "stroke-width", 1.5);
  if (form == nullptr) {
    set(add_dot(svg, {27, 18}, 5.5), "fill", ink);
    return svg_text(document);
  }
  pugi::xml_node stripes = add_path(svg, form->stripes);
  set(stripes, "fill", "none");
  set(stripes, "stroke", ink);
  set(stripes, "stroke-width", 4.5);
  if (number > 1) {
    pugi::xml_node text = add_text(svg, {28, 24}, fmt::format("{}", number));
    set(text, "font-size", 16);
    set(text, "font-weight", "bold");
    set(text, "text-anchor", "middle");
    set(text, "fill", ink);
    set(text, "stroke", paper_colour);
    set(text, "stroke-width", 3);
    set(text, "paint-order", "stroke");
  }
  return svg_text(document);
}

GroupSign solid_sign(std::size_t treated_before) {
  const SignForm& form = solid_forms.at(treated_before % solid_forms.size());
  const std::size_t number = treated_before / solid_forms.size() + 1;
  const std::string again = number > 1 ? fmt::format(" {}", number) : std::string();
  return {fmt::format("{}{}", form.shape, again),
          number > 1 ? fmt::format("{}, and a{}", form.mark, again) : std::string(form.mark),
          drawn_shape(&form, number), drawn_mark(&form, number)};
}

/// Stripes of a line that is dashed across its width, made oblique.
void add_hatch(pugi::xml_node svg, std::string_view height, double width) {
  pugi::xml_node line = svg.append_child("line");
  set(line, "x1", -400);
  set(line, "y1", height);
  set(line, "x2", 1200);
  set(line, "y2", height);
  set(line, "stroke", ink);
  set(line, "stroke-width", width);
  set(line, "stroke-dasharray", "1.6 5");
  set(line, "transform", "skewX(-40)");
}

} // namespace

std::string GroupSign::word() const {
  std::string capitals = shape;
  std::ranges::transform(capitals, capitals.begin(), [](char letter) {
    return letter >= 'a' && letter <= 'z' ? static_cast<char>(letter - 'a' + 'A') : letter;
  });
  return capitals;
}

std::vector<GroupSign> group_signs(const std::vector<PlannedGroup>& groups) {
  std::vector<GroupSign> signs;
  std::size_t treated = 0;
  for (const PlannedGroup& group : groups)
    signs.push_back(group.treated() ? solid_sign(treated++)
                                    : GroupSign{std::string(ring_word), std::string(spot_words),
                                                drawn_shape(nullptr, 1), drawn_mark(nullptr, 1)});
  return signs;
}

std::string hatching() {
  pugi::xml_document document;
  add_hatch(add_silent_svg(document, "hatch"), "50%", 400);
  return svg_text(document);
}

std::string hatched_edges() {
  constexpr double edge = 4; // half of it lies within the space
  pugi::xml_document document;
  pugi::xml_node svg = add_silent_svg(document, "edges");
  add_hatch(svg, "0%", edge);
  add_hatch(svg, "100%", edge);
  return svg_text(document);
}

std::string marking_advice(const FieldSheetQuestion& question) {
  const std::string with =
      question.host == "horses"
          ? "Mark with a crayon made for livestock; spray frightens many horses."
          : "Mark with livestock spray, or raddle made for livestock, never paint; on wool, one "
            "that scours out.";
  return with + " It must last until the last second sample, 14 days or so. Large, on dry hair or "
                "wool, away from eyes and wounds, to be read from above in the race. Mark last, "
                "when an animal is done, the untreated too: a marked animal is not drenched again "
                "that day. The tag decides who an animal is, not the mark (practice).";
}

} // namespace eggfall
