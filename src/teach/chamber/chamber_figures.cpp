#include "teach/chamber/chamber_figures.hpp"

#include "formats/drawing/narrow_figure.hpp"
#include "teach/chamber/particle_drawing.hpp"

#include <boost/math/constants/constants.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view ruling_colour = "#3d77b3";
constexpr std::string_view counted_colour = "#0b6b3a";
constexpr std::string_view left_out_colour = "#a3231c";

constexpr double bar_um = 500;
constexpr double foot_um = 420; ///< Below the picture, for the bar.
constexpr double font_um = 190; ///< 3.2 mm on paper.

/// The ruled square: the outer line strong, the inner ones thin.
void draw_rulings(pugi::xml_node svg, const ChamberSpec& spec, double line_width) {
  const double side = spec.side_um;
  pugi::xml_node group = add_group(svg, "rulings");
  for (int lane = 1; lane < spec.lanes; ++lane) {
    const double x = side * lane / spec.lanes;
    add_rule(group, {x, 0}, {x, side}, ruling_colour, line_width / 2);
  }
  pugi::xml_node square = add_box(group, {0, 0, side, side}, "none");
  set(square, "stroke", ruling_colour);
  set(square, "stroke-width", line_width);
}

void draw_particles(pugi::xml_node svg, const ChamberView& view) {
  for (const Particle& each : view.particles)
    add_particle(svg, each);
}

/// A bar of a round length in the strip below the picture, which hides what reaches into it.
void draw_foot(pugi::xml_node svg, const SvgBox& seen) {
  add_box(svg, {seen.x, seen.bottom(), seen.width, foot_um}, "#ffffff");
  const double y = seen.bottom() + 140;
  add_rule(svg, {0, y}, {bar_um, y}, ink, 24);
  for (const double x : {0.0, bar_um})
    add_rule(svg, {x, y - 60}, {x, y + 60}, ink, 16);
  add_label(svg, {bar_um + 100, y + 65},
            fmt::format("{:g} mm in the chamber; {:g} mm on paper if printed at 100%",
                        bar_um / 1000, bar_um / 1000 * chamber_scale),
            Anchor::start, font_um);
}

/// The picture of a chamber without any marks.
class ChamberDrawing {
public:
  ChamberDrawing(const ChamberView& view, std::string_view title, std::string_view description)
      : svg_(add_svg(document_, title, description)) {
    const double margin = view.spec.margin_um;
    const double extent = view.spec.side_um + 2 * margin;
    const SvgBox seen{-margin, -margin, extent, extent};
    set(svg_, "viewBox",
        fmt::format("{} {} {} {}", svg_number(seen.x), svg_number(seen.y), svg_number(extent),
                    svg_number(extent + foot_um)));
    set(svg_, "style", "font-family: Arial, 'Liberation Sans', Helvetica, sans-serif");
    add_box(svg_, seen, "#ffffff");
    draw_rulings(svg_, view.spec, 14);
    draw_particles(svg_, view);
    draw_foot(svg_, seen);
  }

  pugi::xml_node svg() const { return svg_; }
  std::string text() const { return svg_text(document_); }

private:
  pugi::xml_document document_;
  pugi::xml_node svg_;
};

std::string chamber_name(const ChamberView& view) {
  return fmt::format("Sample {}, chamber {}", view.sample, view.chamber);
}

std::string ruled_words(const ChamberSpec& spec) {
  return fmt::format("A ruled square of {:g} by {:g} mm, parted into {} lanes", spec.side_um / 1000,
                     spec.side_um / 1000, spec.lanes);
}

/// Both strokes of a cross.
void add_cross(pugi::xml_node parent, SvgPoint at, double half, double line_width) {
  for (const double slope : {-1.0, 1.0})
    add_rule(parent, {at.x - half, at.y - slope * half}, {at.x + half, at.y + slope * half},
             left_out_colour, line_width);
}

SvgPoint point_of(const Particle& particle) {
  return {particle.centre.x_um, particle.centre.y_um};
}

/// The number stands to the right, or to the left where the picture ends.
void add_numbered_ring(pugi::xml_node svg, const ChamberSpec& spec, const Particle& egg,
                       std::size_t number) {
  const SvgPoint at = point_of(egg);
  const double radius = egg.length_um / 2 + 45;
  pugi::xml_node group = add_group(svg, "counted");
  pugi::xml_node ring = add_dot(group, at, radius);
  set(ring, "fill", "none");
  set(ring, "stroke", counted_colour);
  set(ring, "stroke-width", 12);
  const bool to_the_left = at.x > spec.side_um - 400;
  pugi::xml_node label =
      add_label(group, {at.x + (to_the_left ? -1 : 1) * (radius + 25), std::max(at.y + 65, 0.0)},
                fmt::format("{}", number), to_the_left ? Anchor::end : Anchor::start, font_um);
  set(label, "fill", counted_colour);
  set(label, "font-weight", "bold");
}

void draw_marks(pugi::xml_node svg, const ChamberView& view) {
  std::size_t number = 0;
  for (const Particle& egg : counted_eggs(view))
    add_numbered_ring(svg, view.spec, egg, ++number);
  for (const Particle& each : view.particles)
    if (is_egg(each.kind) && placing(view.spec, each) == Placing::left_out)
      add_cross(add_group(svg, "left-out"), point_of(each), each.length_um / 2 + 30, 12);
}

Particle mean_particle(ParticleKind kind, std::uint32_t look) {
  const ParticleSize& size = size_of(kind);
  return {kind, {}, size.length_um, size.width_um, 0, look};
}

/// One kind in the panel, and what to look for, in short lines.
struct PanelEntry {
  ParticleKind kind;
  std::uint32_t look;
  std::string_view name;
  std::array<std::string_view, 3> signs;
};

const std::array<PanelEntry, particle_kinds.size()>& panel_entries() {
  static constexpr std::array<PanelEntry, particle_kinds.size()> entries{{
      {ParticleKind::strongyle_type,
       1,
       "Strongyle-type",
       {"thin wall, oval,", "filled with 8 to 16", "cells"}},
      {ParticleKind::nematodirus_like,
       2,
       "Nematodirus-like",
       {"large, tapered ends,", "4 to 8 big dark cells,", "clear space around"}},
      {ParticleKind::strongyloides_like,
       3,
       "Strongyloides-like",
       {"small, thin wall, a", "coiled larva inside", ""}},
      {ParticleKind::air_bubble,
       1,
       "Air bubble",
       {"round, thick dark rim,", "bright centre: not", "counted"}},
      {ParticleKind::plant_bit,
       2,
       "Plant bit",
       {"jagged or a fibre, no", "smooth wall: not", "counted"}},
  }};
  return entries;
}

constexpr double panel_scale = 0.52; ///< Units of a NarrowFigure a micrometre.
constexpr double panel_column = 116;
constexpr double panel_row = 130;
constexpr double panel_middle = 34; ///< Of the particle, below the top of its row.

/// Two sizes, or one of what is round.
std::string size_words(const ParticleSize& size) {
  return size.length_um == size.width_um
             ? fmt::format("about {:g} \u00b5m", size.length_um)
             : fmt::format("{:g} x {:g} \u00b5m", size.length_um, size.width_um);
}

void draw_entry(pugi::xml_node svg, const PanelEntry& entry, SvgPoint corner) {
  pugi::xml_node group = add_group(svg, "enlarged");
  set(group, "transform",
      fmt::format("translate({} {}) scale({})", svg_number(corner.x + panel_column / 2),
                  svg_number(corner.y + panel_middle), panel_scale));
  add_particle(group, mean_particle(entry.kind, entry.look));
  const double middle = corner.x + panel_column / 2;
  double y = corner.y + 2 * panel_middle + 8;
  set(add_label(svg, {middle, y}, entry.name, Anchor::middle), "font-weight", "bold");
  const ParticleSize& size = size_of(entry.kind);
  add_label(svg, {middle, y += 13}, size_words(size), Anchor::middle);
  for (const std::string_view sign : entry.signs)
    if (!sign.empty())
      add_label(svg, {middle, y += 13}, sign, Anchor::middle);
}

void draw_panel_bar(pugi::xml_node svg, SvgPoint left) {
  constexpr double bar = 100;
  add_rule(svg, left, {left.x + bar * panel_scale, left.y}, ink, 2);
  for (const double x : {left.x, left.x + bar * panel_scale})
    add_rule(svg, {x, left.y - 4}, {x, left.y + 4}, ink, 1.2);
  add_label(svg, {left.x, left.y + 16}, fmt::format("{:g} \u00b5m", bar), Anchor::start);
}

/// A square so small that eggs on its lines can be told apart.
ChamberView rule_example() {
  constexpr double side = 600;
  constexpr double slope = 0.6;
  constexpr double steep = 0.75 * boost::math::constants::pi<double>();
  ChamberView view;
  view.spec.side_um = side;
  view.spec.lanes = 2;
  view.spec.margin_um = 100;
  std::uint32_t look = 0;
  for (const auto& [x, y, angle] :
       {std::array{0.0, 0.0, slope}, std::array{0.0, 190.0, -slope}, std::array{150.0, 0.0, slope},
        std::array{300.0, 200.0, 0.2}, std::array{460.0, 390.0, -slope},
        std::array{side, 150.0, slope}, std::array{170.0, side, 0.3}, std::array{0.0, side, -slope},
        std::array{side, side, slope}, std::array{side - 16, -20.0, steep},
        std::array{430.0, side, -0.2}, std::array{110.0, 440.0, 1.2},
        std::array{420.0, 90.0, -0.9}}) {
    Particle egg = mean_particle(ParticleKind::strongyle_type, ++look);
    egg.centre = {x, y};
    egg.angle = angle;
    view.particles.push_back(egg);
  }
  return view;
}

void add_tick(pugi::xml_node parent, SvgPoint at) {
  pugi::xml_node tick = parent.append_child("polyline");
  set(tick, "points",
      fmt::format("{} {} {} {} {} {}", svg_number(at.x - 22), svg_number(at.y),
                  svg_number(at.x - 6), svg_number(at.y + 18), svg_number(at.x + 24),
                  svg_number(at.y - 22)));
  set(tick, "fill", "none");
  set(tick, "stroke", counted_colour);
  set(tick, "stroke-width", 9);
}

void draw_rule_example(pugi::xml_node group, const ChamberView& view) {
  draw_rulings(group, view.spec, 4);
  const double side = view.spec.side_um;
  for (const auto& [from, to] : {std::pair{SvgPoint{0, side}, SvgPoint{side, side}},
                                 std::pair{SvgPoint{side, 0}, SvgPoint{side, side}}})
    add_rule(group, from, to, left_out_colour, 8);
  add_rule(group, {side, -view.spec.margin_um}, {side, 0}, left_out_colour, 8, "22 14");
  draw_particles(group, view);
  for (const Particle& egg : view.particles) {
    // Beside the egg, so that where it touches can be seen.
    const SvgPoint at{egg.centre.x_um + 68, egg.centre.y_um - 36};
    if (placing(view.spec, egg) == Placing::counted)
      add_tick(group, at);
    else
      add_cross(group, at, 20, 9);
  }
}

/// Words of a line's own, in its colour, one under the other.
void add_line_words(pugi::xml_node svg, SvgPoint at, const std::vector<std::string_view>& words,
                    std::string_view colour) {
  for (const std::string_view line : words) {
    pugi::xml_node label = add_label(svg, at, line, Anchor::middle);
    set(label, "fill", colour);
    set(label, "font-weight", "bold");
    at.y += 13;
  }
}

} // namespace

double paper_width_mm(const ChamberSpec& spec) {
  return chamber_scale * (spec.side_um + 2 * spec.margin_um) / 1000;
}

std::string chamber_figure(const ChamberView& view) {
  return ChamberDrawing(view, chamber_name(view),
                        ruled_words(view.spec) +
                            ", with eggs, air bubbles and plant bits strewn over it. It is to be "
                            "counted by eye; the key has the counts.")
      .text();
}

std::string key_figure(const ChamberView& view) {
  const ChamberDrawing drawing(
      view, chamber_name(view) + ": key",
      fmt::format("{}. Each of {} eggs counted is circled and numbered; those that the line rule "
                  "leaves out are crossed. The table has the counts of each kind.",
                  ruled_words(view.spec), counted_eggs(view).size()));
  draw_marks(drawing.svg(), view);
  return drawing.text();
}

std::string particle_panel() {
  NarrowFigure figure("What you may see",
                      "Each kind enlarged alike, with its mean size. The three kinds of egg are "
                      "counted; air bubbles and plant bits are not.");
  const double left = (NarrowFigure::full_width - 3 * panel_column) / 2;
  std::size_t place = 0;
  for (const PanelEntry& entry : panel_entries()) {
    const std::size_t row = place / 3;
    const std::size_t column = place % 3;
    draw_entry(figure.svg(), entry,
               {left + panel_column * static_cast<double>(column),
                4 + panel_row * static_cast<double>(row)});
    ++place;
  }
  draw_panel_bar(figure.svg(), {left + 2 * panel_column + 32, 4 + panel_row + panel_middle});
  return figure.finished(4 + 2 * panel_row);
}

std::string line_rule_figure() {
  NarrowFigure figure("The line rule",
                      "A square with eggs inside and on its lines. Ticked, and counted: eggs "
                      "inside, on the left line, on the top line, on their corner and on an inner "
                      "line. Crossed, and not counted: eggs on the right line, on the bottom line, "
                      "on the corners of these, and one over the upper end of the right line.");
  constexpr double scale = 0.36;
  const ChamberView view = rule_example();
  pugi::xml_node group = add_group(figure.svg(), "example");
  const double left = (NarrowFigure::full_width - scale * view.spec.side_um) / 2;
  const double top = 44;
  const double bottom = top + scale * view.spec.side_um;
  set(group, "transform",
      fmt::format("translate({} {}) scale({})", svg_number(left), svg_number(top),
                  svg_number(scale)));
  draw_rule_example(group, view);
  const double middle = NarrowFigure::full_width / 2;
  const double halfway = (top + bottom) / 2;
  add_line_words(figure.svg(), {middle, top - 32}, {"top line: count"}, counted_colour);
  add_line_words(figure.svg(), {left / 2 - 8, halfway + 4}, {"left line:", "count"},
                 counted_colour);
  add_line_words(figure.svg(), {NarrowFigure::full_width - left / 2 + 6, halfway + 4},
                 {"right line:", "do not", "count"}, left_out_colour);
  add_line_words(figure.svg(), {middle, bottom + 32}, {"bottom line: do not count"},
                 left_out_colour);
  return figure.finished(bottom + 40);
}

} // namespace eggfall
