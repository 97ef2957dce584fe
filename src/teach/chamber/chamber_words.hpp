#pragma once

#include "formats/drawing/html_page.hpp"
#include "teach/chamber/chamber_figures.hpp"
#include "teach/chamber/chamber_practical.hpp"
#include "teach/students/formula.hpp"

#include <string>
#include <string_view>

// What the two pages of the bench practical share.
namespace eggfall {

/// CSS of add_chamber_page(): a picture is as large on a screen as on paper, beside its words, and
/// scrolls where a phone is narrower.
inline constexpr std::string_view chamber_style = R"css(
.slide { display: flex; flex-direction: row-reverse; justify-content: flex-end; gap: 4mm;
  align-items: flex-start; } .beside { width: 50mm; flex: none; }
.slide h2 { margin-top: 0; line-height: 1.25; }
.chamber { margin: 0; flex: none; } .chamber svg { display: block; min-width: 0; }
.beside figure { margin: 3mm 0; } .map svg { max-width: 37mm; } .beside table { width: 100%;
  font-size: 0.85rem; } .beside th, .beside td { padding: 0.1rem 0.2rem; }
.beside tbody th { overflow-wrap: normal; }
thead th:first-child { text-align: left; }
@media screen and (max-width: 47rem) { .slide { display: block; } .beside { width: auto; }
  .slide .chamber { margin-top: 1rem; } }
@page { margin: 8mm 12mm 12mm; }
@media print { .slide { justify-content: space-between; } .chamber { overflow: visible; }
  .beside p { font-size: 9pt; margin: 2mm 0; } .beside table { font-size: 8pt; } }
)css";

/// A sheet of paper with a picture of a chamber's lanes; gives what stands beside it, which has
/// its heading, the map of the lanes and the scale bar.
pugi::xml_node add_chamber_page(pugi::xml_node body, const ChamberView& view,
                                const LaneRange& lanes, const std::string& svg);

/// "sample A, chamber 1"
std::string chamber_words(const ChamberView& view);

/// "Strongyle-type", for the head of a column.
std::string short_name(ParticleKind egg);

/// How the factor is worked out: mL in all, divided by grams and by mL counted.
Formula factor_formula(const ChamberPractical& practical);

/// Gloves, and what the drawings are not for.
std::string_view chamber_caution();

} // namespace eggfall
