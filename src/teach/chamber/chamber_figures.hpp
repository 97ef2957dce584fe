#pragma once

#include "teach/chamber/counting_chamber.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// Millimetres of paper a millimetre of the chamber, where a page prints at its true size: the
/// smallest kind of egg, of 50 micrometres, is 3 mm long.
inline constexpr double chamber_scale = 60;

/// Neighbouring lanes of a chamber, from 1.
struct LaneRange {
  int first = 1;
  int last = 1;
};

/// All lanes of a chamber from left to right, as many together as a sheet of A4 or Letter has room
/// for beside its words, but at least one. A lane is not parted: one longer than 4.1 mm does not
/// fit a sheet.
std::vector<LaneRange> lane_pages(const ChamberSpec& spec);

/// "lanes 1 to 3", or "lane 4".
std::string lane_words(const LaneRange& lanes);

/// Width on paper, mm, of chamber_figure(): the lanes and the margin on both sides.
double paper_width_mm(const ChamberSpec& spec, const LaneRange& lanes);

/// What is seen of some lanes, to be counted, with their numbers and the way to count along; grey
/// is what lies beyond them. Its unit is the micrometre, and it asks for paper_width_mm(). Its
/// words do not give the counts away.
std::string chamber_figure(const ChamberView& view, const LaneRange& lanes);

/// The same with each egg that these lanes count circled, and numbered as counted_eggs() orders
/// those of the whole chamber, and those crossed that touch the square and are left out.
std::string key_figure(const ChamberView& view, const LaneRange& lanes);

/// Where those lanes lie in the chamber.
std::string lane_map(const ChamberSpec& spec, const LaneRange& lanes);

/// A bar of a round length at the scale of chamber_figure(), and how long it is on paper.
std::string scale_bar();

/// Every kind of particle at one magnification, with its mean size and what it is known by.
std::string particle_panel();

/// The line rule: eggs on each line and corner, ticked or crossed as placing() says.
std::string line_rule_figure();

} // namespace eggfall
