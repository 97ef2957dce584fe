#include "formats/drawing/panel_figure.hpp"

#include "base/text.hpp"
#include "formats/drawing/inks.hpp"
#include "formats/drawing/narrow_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr double figure_width = 760;
constexpr double margin = 10;
constexpr double y_labels_width = 44; ///< With the title of the axis.
constexpr double panel_gap = 12;
constexpr double section_gap = 14;
constexpr double heading_gap = 4;
constexpr double row_gap = 10;
constexpr double tick_gap = 4;

struct Font {
  double size;
  std::string_view weight;
  std::string_view fill;
  /// Mean width of a character by the size, on the safe side for the usual sans-serif fonts.
  double character;

  double line() const { return 1.35 * size; }
  double width_of(std::string_view text) const {
    return character * size * static_cast<double>(character_count(text));
  }
  std::vector<std::string> lines_of(std::string_view text, double width) const {
    return wrapped(text, static_cast<std::size_t>(width / (character * size)));
  }
  /// From the middle of a digit down to where it stands.
  double half_digit() const { return 0.36 * size; }
};

constexpr double bold = 0.65;
constexpr double normal = 0.6;
constexpr Font title_font{17, "bold", ink, bold};
constexpr Font heading_font{14, "bold", ink, bold};
constexpr Font text_font{12, "normal", ink, normal};
constexpr Font panel_font{12, "bold", ink, bold};
constexpr Font small_font{12, "normal", quiet_ink, normal}; ///< No text is smaller.

constexpr double key_width = 22;
constexpr double key_height = 11;
constexpr double key_gap = 5;
constexpr double keys_apart = 16;

constexpr double lone_labels_width = 26; ///< Of the axis of a panel by itself, without its title.
constexpr double lone_margin = 2;

/// Appends what is below the last, and keeps account of where that is.
class Page {
public:
  explicit Page(pugi::xml_node svg) : svg_(svg) {}

  /// The baseline of a line, with the next line below it.
  double next_line(const Font& font) {
    y_ += font.line();
    return y_ - font.line() + font.size;
  }
  void skip(double height) { y_ += height; }
  double y() const { return y_; }
  pugi::xml_node svg() const { return svg_; }

private:
  pugi::xml_node svg_;
  double y_ = margin;
};

void set_font(pugi::xml_node node, const Font& font) {
  set(node, "font-size", font.size);
  set(node, "font-weight", font.weight);
  set(node, "fill", font.fill);
}

void draw_paragraph(Page& page, std::string_view text, const Font& font) {
  for (const std::string& line : font.lines_of(text, figure_width - 2 * margin))
    set_font(add_text(page.svg(), {margin, page.next_line(font)}, line), font);
}

void draw_legend_line(Page& page, const std::vector<LegendKey>& keys, double right) {
  double x = margin;
  double baseline = page.next_line(text_font);
  for (const LegendKey& key : keys) {
    const double width = key_width + key_gap + text_font.width_of(key.label);
    if (x > margin && x + width > right) {
      x = margin;
      baseline = page.next_line(text_font);
    }
    const auto group = add_group(page.svg(), "key");
    key.draw(group, {x, baseline - key_height + 1, key_width, key_height});
    set_font(add_text(group, {x + key_width + key_gap, baseline}, key.label), text_font);
    x += width + keys_apart;
  }
}

double widest_label(const PanelFigure& figure) {
  double widest = 0;
  for (const std::string& label : figure.categories)
    widest = std::max(widest, small_font.width_of(label));
  return widest;
}

double area_width(const PanelFigure& figure) {
  const auto columns = static_cast<double>(figure.columns);
  return (figure_width - 2 * margin - y_labels_width - (columns - 1) * panel_gap) / columns;
}

/// Whether each label has room beside the next.
bool labels_lie_flat(const PanelFigure& figure, double step) {
  const auto crowded = [&](const std::string& label, const std::string& next) {
    return (small_font.width_of(label) + small_font.width_of(next)) / 2 + tick_gap > step;
  };
  return std::ranges::adjacent_find(figure.categories, crowded) == figure.categories.end();
}

double x_labels_height(const PanelFigure& figure, double step) {
  return tick_gap + (labels_lie_flat(figure, step) ? small_font.size : widest_label(figure));
}

void turn_upright(pugi::xml_node text, SvgPoint place) {
  set(text, "transform",
      fmt::format("rotate(-90 {} {})", svg_number(place.x), svg_number(place.y)));
}

void draw_x_labels(pugi::xml_node panel, const PanelArea& area, const PanelFigure& figure) {
  const bool flat = labels_lie_flat(figure, area.step());
  // Upright, a label is as wide as its font is high; where even that is too much, some are left
  // out.
  const auto every = static_cast<std::size_t>(flat ? 1 : std::ceil(small_font.size / area.step()));
  const auto group = add_group(panel, "x-labels");
  set_font(group, small_font);
  set(group, "text-anchor", flat ? "middle" : "end");
  for (std::size_t i = 0; i < figure.categories.size(); i += every) {
    const double x = area.middle_of(i);
    const double top = area.box.bottom() + tick_gap;
    if (flat) {
      add_text(group, {x, top + small_font.size}, figure.categories[i]);
      continue;
    }
    const SvgPoint place{x + small_font.half_digit(), top};
    turn_upright(add_text(group, place, figure.categories[i]), place);
  }
}

pugi::xml_node draw_y_labels(pugi::xml_node row, const PanelArea& area, const PanelFigure& figure) {
  const auto group = add_group(row, "y-labels");
  set_font(group, small_font);
  set(group, "text-anchor", "end");
  for (const PanelTick& tick : figure.y_ticks)
    add_text(group, {area.box.x - tick_gap, area.height_of(tick.share) + small_font.half_digit()},
             tick.label);
  return group;
}

void draw_y_title(pugi::xml_node group, const PanelArea& area, const PanelFigure& figure) {
  const SvgPoint place{margin + small_font.size, area.height_of(0.5)};
  const auto title = add_text(group, place, figure.y_title);
  set(title, "text-anchor", "middle");
  turn_upright(title, place);
}

void draw_grid(pugi::xml_node panel, const PanelArea& area, const PanelFigure& figure) {
  const auto group = add_group(panel, "grid");
  set(group, "stroke", rule_colour);
  set(group, "stroke-width", 0.5);
  for (const PanelTick& tick : figure.y_ticks)
    add_line(group, {area.box.x, area.height_of(tick.share)},
             {area.box.right(), area.height_of(tick.share)});
}

void draw_frame(pugi::xml_node panel, const PanelArea& area) {
  set(add_box(panel, area.box, "none"), "stroke", line_colour);
}

/// The lines above a panel, as many as fit its width.
struct PanelTitles {
  std::vector<std::string> title;
  std::vector<std::string> notes;

  double height() const {
    return static_cast<double>(title.size()) * panel_font.line() +
           static_cast<double>(notes.size()) * small_font.line();
  }
};

PanelTitles titles_of(const Panel& panel, double width) {
  PanelTitles titles{panel_font.lines_of(panel.title, width), {}};
  for (const std::string& note : panel.notes)
    for (std::string& line : small_font.lines_of(note, width))
      titles.notes.push_back(std::move(line));
  return titles;
}

void draw_titles(pugi::xml_node group, SvgPoint top_left, const PanelTitles& titles) {
  SvgPoint place{top_left.x, top_left.y + panel_font.size};
  const auto draw = [&](const std::vector<std::string>& lines, const Font& font) {
    for (const std::string& line : lines) {
      set_font(add_text(group, place, line), font);
      place.y += font.line();
    }
  };
  draw(titles.title, panel_font);
  draw(titles.notes, small_font);
}

/// All of a panel but its words.
void draw_inside(pugi::xml_node group, const Panel& panel, const PanelArea& area,
                 const PanelFigure& figure) {
  draw_grid(group, area, figure);
  panel.draw(group, area);
  draw_frame(group, area);
  draw_x_labels(group, area, figure);
}

/// Panels `first` and those after it that fit in one row.
void draw_row(Page& page, const PanelFigure& figure, const PanelSection& section,
              std::size_t first) {
  const double width = area_width(figure);
  const std::size_t end = std::min(first + figure.columns, section.panels.size());
  const double top = page.y();
  double highest = 0;
  for (std::size_t i = first; i < end; ++i)
    highest = std::max(highest, titles_of(section.panels[i], width).height());
  page.skip(highest + panel_headroom);
  for (std::size_t i = first; i < end; ++i) {
    const Panel& panel = section.panels[i];
    const double x = margin + y_labels_width + static_cast<double>(i - first) * (width + panel_gap);
    const PanelArea area{{x, page.y(), width, figure.area_height}, figure.categories.size()};
    const auto group = add_group(page.svg(), "panel");
    add_words(group, "title", section.heading + ": " + panel.title);
    draw_titles(group, {x, top}, titles_of(panel, width));
    draw_inside(group, panel, area, figure);
    if (i == first)
      draw_y_title(draw_y_labels(group, area, figure), area, figure);
  }
  page.skip(figure.area_height +
            x_labels_height(figure, width / static_cast<double>(figure.categories.size())));
}

void draw_section(Page& page, const PanelFigure& figure, const PanelSection& section) {
  page.skip(section_gap);
  draw_paragraph(page, section.heading, heading_font);
  draw_paragraph(page, section.note, text_font);
  for (std::size_t first = 0; first < section.panels.size(); first += figure.columns) {
    page.skip(first == 0 ? heading_gap : row_gap);
    draw_row(page, figure, section, first);
  }
  page.skip(tick_gap);
  const auto x_title =
      add_text(page.svg(), {margin + y_labels_width, page.next_line(small_font)}, figure.x_title);
  set_font(x_title, small_font);
}

} // namespace

std::vector<PanelTick> quarter_ticks() {
  return {{0, "0"}, {0.25, "25"}, {0.5, "50"}, {0.75, "75"}, {1, "100"}};
}

std::string drawn(const PanelFigure& figure) {
  pugi::xml_document document;
  pugi::xml_node svg = add_svg(document, figure.title, figure.description);
  set(svg, "style", "font-family: Helvetica, Arial, sans-serif");
  pugi::xml_node paper = add_box(svg, {}, paper_colour);
  Page page(svg);
  draw_paragraph(page, figure.title, title_font);
  draw_paragraph(page, figure.how_to_read, text_font);
  page.skip(row_gap / 2);
  for (const std::vector<LegendKey>& line : figure.legend)
    draw_legend_line(page, line, figure_width - margin);
  for (const PanelSection& section : figure.sections)
    draw_section(page, figure, section);
  const double height = page.y() + margin;
  set(paper, "width", figure_width);
  set(paper, "height", height);
  set(svg, "width", figure_width);
  set(svg, "height", height);
  set(svg, "viewBox", fmt::format("0 0 {} {}", svg_number(figure_width), svg_number(height)));
  return svg_text(document);
}

std::string drawn_alone(const PanelFigure& figure, const Panel& panel, std::string_view about) {
  NarrowFigure alone(about, fmt::format("{}", fmt::join(panel.notes, "; ")), lone_panel_width);
  const PanelArea area{{lone_labels_width, lone_margin + panel_headroom,
                        lone_panel_width - lone_labels_width - lone_margin, figure.area_height},
                       figure.categories.size()};
  const auto group = add_group(alone.svg(), "panel");
  draw_inside(group, panel, area, figure);
  draw_y_labels(group, area, figure);
  return alone.finished(area.box.bottom() + x_labels_height(figure, area.step()) + lone_margin);
}

std::string drawn_legend(const PanelFigure& figure) {
  NarrowFigure legend("Legend", "What the marks mean.");
  Page page(legend.svg());
  for (const std::vector<LegendKey>& line : figure.legend)
    draw_legend_line(page, line, legend.right());
  return legend.finished(page.y());
}

} // namespace eggfall
