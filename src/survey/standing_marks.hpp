#pragma once

#include "eggfall/judgement/verdict.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <string_view>

// How the class that a group stands in is drawn in the figures of a survey: by shape and hatching
// first, by colour besides, so that it is read in black print too.
namespace eggfall {

/// The ink of the class.
std::string_view standing_colour(VerdictClass standing);

/// A mark so wide from its middle: solid square, resistant; open square, low resistant; open disc,
/// open or suspected; solid disc, susceptible; cross, no class.
void add_standing_mark(pugi::xml_node parent, SvgPoint place, VerdictClass standing, double radius);

/// The words for those marks, but for classes that are not among these.
inline constexpr std::string_view marks_key =
    "Solid square: resistant. Open square: low resistant. Open disc: open. Solid disc: "
    "susceptible. Cross: no class.";

/// A part of a stacked bar: solid, resistant; upright lines, low resistant; slanted lines, open or
/// suspected; outline, susceptible; dashed outline, no class.
void add_standing_box(pugi::xml_node parent, const SvgBox& box, VerdictClass standing);

} // namespace eggfall
