#pragma once

#include "teach/chamber/counting_chamber.hpp"

#include <string>

namespace eggfall {

/// Millimetres of paper a millimetre of the chamber, where a page prints at its true size.
inline constexpr double chamber_scale = 17;

/// Width on paper, mm, of chamber_figure(): the square and the margin on both sides.
double paper_width_mm(const ChamberSpec& spec);

/// What is seen, to be counted, with a scale bar. Its unit is the micrometre. Its words do not give
/// the counts away.
std::string chamber_figure(const ChamberView& view);

/// The same with each counted egg circled, and numbered as counted_eggs() orders them, and those
/// crossed that touch the square and are left out.
std::string key_figure(const ChamberView& view);

/// Every kind of particle at one magnification, with its mean size and what it is known by.
std::string particle_panel();

/// The line rule: eggs on each line and corner, ticked or crossed as placing() says.
std::string line_rule_figure();

} // namespace eggfall
