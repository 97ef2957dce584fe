#pragma once

#include <array>
#include <string>
#include <string_view>

// The colours of all pages and figures. A figure is drawn in those for white paper, which is all
// that a file by itself, a slide or a printer needs; on a page it takes the page's own, so that on
// a dark screen it is drawn in light inks. docs/drawing.md shows them all.
namespace eggfall {

inline constexpr std::string_view ink = "#1a1a1a";
inline constexpr std::string_view quiet_ink = "#444444";
inline constexpr std::string_view paper_colour = "#ffffff";
inline constexpr std::string_view line_colour = "#767676";
inline constexpr std::string_view rule_colour = "#b0b0b0";
inline constexpr std::string_view tint_colour = "#eeeeee";
inline constexpr std::string_view zone_colour = "#e4e0d6";
inline constexpr std::string_view deep_colour = "#14506b";
inline constexpr std::string_view soft_colour = "#c0dae2";
inline constexpr std::string_view miss_colour = "#a3231c";

/// Those of the classes of a verdict, where many are stacked; the worst is the darkest.
inline constexpr std::string_view resistant_colour = "#6b2c0f";
inline constexpr std::string_view suspected_colour = "#e59b6d";
inline constexpr std::string_view low_resistant_colour = "#e3ad33";
inline constexpr std::string_view inconclusive_colour = "#dcdcdc";
inline constexpr std::string_view susceptible_colour = "#3a7fb5";

struct Ink {
  std::string_view name;  ///< Of its CSS property, without the dashes before it.
  std::string_view light; ///< On white paper: one of the colours above.
  std::string_view dark;  ///< On a dark screen.
  std::string_view use;   ///< What it is for, always and everywhere.
};

inline constexpr std::array all_inks{
    Ink{"ink", ink, "#f0ede6", "text, axes, outlines; the solid part of a sign"},
    Ink{"quiet", quiet_ink, "#cfcac0", "text that may be read later"},
    Ink{"paper", paper_colour, "#1c1b19", "what all is drawn on"},
    Ink{"line", line_colour, "#8f8a80", "borders; marks of what is not chosen"},
    Ink{"rule", rule_colour, "#6b675f", "lines behind the marks of a figure"},
    Ink{"tint", tint_colour, "#34322e", "heads of tables"},
    Ink{"zone", zone_colour, "#47433a", "between the two thresholds of a verdict"},
    Ink{"deep", deep_colour, "#86c2dc", "what was counted, and what follows from it"},
    Ink{"soft", soft_colour, "#24485a", "the same, as an area"},
    Ink{"miss", miss_colour, "#ff9d8f", "what missed the truth, or would be a wrong dose"},
    Ink{"resistant", resistant_colour, "#c4622f", "the class resistant"},
    Ink{"suspected", suspected_colour, "#f0b48c", "the class suspected"},
    Ink{"low-resistant", low_resistant_colour, "#e3ad33", "the class low resistant"},
    Ink{"inconclusive", inconclusive_colour, "#5a564e", "the class inconclusive"},
    Ink{"susceptible", susceptible_colour, "#5fa3d6", "the class susceptible"}};

/// CSS that gives every ink its value: on white, on a dark screen, and white again on paper.
std::string ink_properties();

/// "var(--deep)" for the value on white of the ink deep, and any other colour as it is.
std::string ink_property(std::string_view colour);

} // namespace eggfall
