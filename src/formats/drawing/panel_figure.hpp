#pragma once

#include "formats/drawing/svg_drawing.hpp"

#include <cstddef>
#include <functional>
#include <string>
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

/// Small multiples that share both axes.
struct PanelFigure {
  std::string title;
  std::string how_to_read;
  std::string description;                    ///< In words, for those who cannot see it.
  std::vector<std::vector<LegendKey>> legend; ///< Each list starts a line.
  std::vector<std::string> categories;        ///< Their labels.
  std::string x_title;
  std::string y_title;
  std::size_t columns = 1;
  std::vector<PanelSection> sections;
};

/// Height above a panel's area that is free for it to draw on.
inline constexpr double panel_headroom = 11;

/// The figure as an SVG document.
std::string drawn(const PanelFigure& figure);

} // namespace eggfall
