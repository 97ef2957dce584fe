#pragma once

#include "formats/drawing/svg_drawing.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Where a panel draws: a number of categories from left to right, shares from 0 at the bottom to
/// 1 at the top.
struct PanelArea {
  SvgBox box;
  std::size_t categories = 1;

  double step() const { return box.width / static_cast<double>(categories); }
  double left_of(std::size_t category) const {
    return box.x + step() * static_cast<double>(category);
  }
  double middle_of(std::size_t category) const { return left_of(category) + step() / 2; }
  double height_of(double share) const { return box.bottom() - share * box.height; }
};

struct Panel {
  std::string title;
  std::vector<std::string> notes; ///< Lines under the title.
  std::function<void(pugi::xml_node, const PanelArea&)> draw;
};

/// Panels that belong together, wrapped into rows.
struct PanelSection {
  std::string heading;
  std::string note;
  std::vector<Panel> panels;
};

/// An entry of the legend.
struct LegendKey {
  std::string label;
  std::function<void(pugi::xml_node, const SvgBox&)> draw;
};

/// A rule across every panel, and what the axis calls it.
struct PanelTick {
  double share = 0; ///< Of the panel's height, from the bottom.
  std::string label;
};

/// Shares of 0 to 100 percent, evenly.
std::vector<PanelTick> quarter_ticks();

/// Small multiples that share both axes.
struct PanelFigure {
  std::string title;
  std::string how_to_read;
  std::string description;                    ///< In words, for those who cannot see it.
  std::vector<std::vector<LegendKey>> legend; ///< Each list starts a line.
  std::vector<std::string> categories;        ///< Their labels.
  std::string x_title;
  std::string y_title;
  std::vector<PanelTick> y_ticks = quarter_ticks();
  double area_height = 104; ///< Of what a panel draws on.
  std::size_t columns = 1;
  std::vector<PanelSection> sections;
};

/// Height above a panel's area that is free for it to draw on.
inline constexpr double panel_headroom = 11;

/// The figure as an SVG document.
std::string drawn(const PanelFigure& figure);

/// Of a panel that is drawn alone: two stand side by side on a phone of 360 pixels, four on a page.
inline constexpr double lone_panel_width = 156;

/// One of the figure's panels with both axes, as an SVG document. Its title and notes are left to
/// the page around it; for those who cannot see it, it is called `about`, and its notes describe
/// it.
std::string drawn_alone(const PanelFigure& figure, const Panel& panel, std::string_view about);

/// The legend of panels that are drawn alone, as an SVG document as wide as a NarrowFigure.
std::string drawn_legend(const PanelFigure& figure);

} // namespace eggfall
