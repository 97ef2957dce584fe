#pragma once

#include "formats/drawing/html_page.hpp"
#include "teach/chamber/chamber_lesson.hpp"

#include <string>

// What the two pages of the bench lesson share.
namespace eggfall {

/// CSS of add_chamber_sheet(): pictures at their true size on paper, and so large on a screen that
/// one scrolls over them.
std::string chamber_style(const ChamberSpec& spec);

/// A sheet of paper with a chamber's picture; gives its section.
pugi::xml_node add_chamber_sheet(pugi::xml_node body, const ChamberView& view,
                                 const std::string& svg);

/// "sample A, chamber 1"
std::string chamber_words(const ChamberView& view);

/// "Strongyle-type", for the head of a column.
std::string short_name(ParticleKind egg);

/// "45 / (3 x 0.3) = 50", as the factor is worked out.
std::string factor_words(const ChamberLesson& lesson);

/// Gloves, and what the drawings are not for.
std::string_view chamber_caution();

} // namespace eggfall
