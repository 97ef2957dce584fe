#include "teach/chamber/chamber_figures.hpp"

#include "base/text.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "teach/chamber/particle_drawing.hpp"

#include <boost/math/constants/constants.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

// The pictures keep their white paper, and so the inks' values for it.
constexpr std::string_view counted_colour = deep_colour;
constexpr std::string_view left_out_colour = miss_colour;

constexpr double picture_mm = 133; ///< Of paper, for a picture, beside its words.
constexpr double bar_um = 500;
constexpr double font_um = 58;  ///< 3.5 mm on paper.
constexpr double head_um = 100; ///< Above the picture, for the lanes' numbers.

double lane_width(const ChamberSpec& spec) {
  return spec.side_um / spec.lanes;
}

/// What a picture of some lanes shows of the chamber.
SvgBox seen_of(const ChamberSpec& spec, const LaneRange& lanes) {
  const double margin = spec.margin_um;
  return {lane_width(spec) * (lanes.first - 1) - margin, -margin,
          lane_width(spec) * (lanes.last - lanes.first + 1) + 2 * margin,
          spec.side_um + 2 * margin};
}

/// The ruled square: the outer line strong, the inner ones thin.
void draw_rulings(pugi::xml_node svg, const ChamberSpec& spec, double line_width) {
  const double side = spec.side_um;
  pugi::xml_node group = add_group(svg, "rulings");
  for (int lane = 1; lane < spec.lanes; ++lane) {
    const double x = side * lane / spec.lanes;
    add_rule(group, {x, 0}, {x, side}, line_colour, line_width / 2);
  }
  pugi::xml_node square = add_box(group, {0, 0, side, side}, "none");
  set(square, "stroke", quiet_ink);
  set(square, "stroke-width", line_width);
}

/// Grey around the lanes that are to be counted.
void draw_beyond(pugi::xml_node svg, const ChamberSpec& spec, const SvgBox& seen) {
  add_box(svg, seen, tint_colour);
  add_box(svg, {seen.x + spec.margin_um, 0, seen.width - 2 * spec.margin_um, spec.side_um},
          paper_colour);
}

void draw_particles(pugi::xml_node svg, const std::vector<Particle>& particles) {
  for (const Particle& each : particles)
    add_particle(svg, each);
}

/// Those of which a part may be seen.
std::vector<Particle> particles_in(const ChamberView& view, const SvgBox& seen) {
  std::vector<Particle> found;
  for (const Particle& each : view.particles) {
    const double reach = std::hypot(each.length_um, each.width_um) / 2;
    if (each.centre.x_um > seen.x - reach && each.centre.x_um < seen.right() + reach)
      found.push_back(each);
  }
  return found;
}

/// An arrow downward from a point, with a head so high.
void add_down_arrow(pugi::xml_node parent, SvgPoint from, double length, double head,
                    double line_width) {
  pugi::xml_node arrow = parent.append_child("path");
  set(arrow, "d",
      fmt::format("M{} {}v{}m{} {}l{} {}l{} {}", svg_number(from.x), svg_number(from.y),
                  svg_number(length), svg_number(-head), svg_number(-head), svg_number(head),
                  svg_number(head), svg_number(head), svg_number(-head)));
  set(arrow, "fill", "none");
  set(arrow, "stroke", ink);
  set(arrow, "stroke-width", line_width);
}

/// The lanes' numbers, and the way to count along, in the strip above the picture.
void draw_lane_numbers(pugi::xml_node svg, const ChamberSpec& spec, const LaneRange& lanes,
                       const SvgBox& seen) {
  add_box(svg, {seen.x, seen.y - head_um, seen.width, head_um}, paper_colour);
  for (int lane = lanes.first; lane <= lanes.last; ++lane) {
    const double middle = lane_width(spec) * (lane - 0.5);
    const std::string words = fmt::format("lane {}", lane);
    set(add_label(svg, {middle - 20, seen.y - 30}, words, Anchor::middle, font_um), "font-weight",
        "bold");
    add_down_arrow(svg, {middle - 20 + text_units(words, font_um) / 2 + 25, seen.y - 75}, 55, 19,
                   7);
  }
}

std::string chamber_name(const ChamberView& view, const LaneRange& lanes) {
  return fmt::format("Sample {}, chamber {}, {}", view.sample, view.chamber, lane_words(lanes));
}

/// The picture of a chamber's lanes without any marks.
class ChamberDrawing {
public:
  ChamberDrawing(const ChamberView& view, const LaneRange& lanes, std::string_view title,
                 std::string_view description)
      : svg_(add_svg(document_, title, description)) {
    const SvgBox seen = seen_of(view.spec, lanes);
    set(svg_, "viewBox",
        fmt::format("{} {} {} {}", svg_number(seen.x), svg_number(seen.y - head_um),
                    svg_number(seen.width), svg_number(seen.height + head_um)));
    set(svg_, "style",
        fmt::format("width: {:g}mm; font-family: Arial, 'Liberation Sans', Helvetica, sans-serif",
                    paper_width_mm(view.spec, lanes)));
    draw_beyond(svg_, view.spec, seen);
    draw_rulings(svg_, view.spec, 8);
    draw_particles(svg_, particles_in(view, seen));
    draw_lane_numbers(svg_, view.spec, lanes, seen);
  }

  pugi::xml_node svg() const { return svg_; }
  std::string text() const { return svg_text(document_); }

private:
  pugi::xml_document document_;
  pugi::xml_node svg_;
};

std::string ruled_words(const ChamberSpec& spec, const LaneRange& lanes) {
  return fmt::format("{} of a ruled square of {:g} by {:g} mm, parted into {} lanes",
                     capitalised(lane_words(lanes)), spec.side_um / 1000, spec.side_um / 1000,
                     spec.lanes);
}

/// Both strokes of a cross.
void add_cross(pugi::xml_node parent, SvgPoint place, double half, double line_width) {
  for (const double slope : {-1.0, 1.0})
    add_rule(parent, {place.x - half, place.y - slope * half},
             {place.x + half, place.y + slope * half}, left_out_colour, line_width);
}

SvgPoint point_of(const Particle& particle) {
  return {particle.centre.x_um, particle.centre.y_um};
}

/// The number stands to the right, or to the left where the picture ends.
void add_numbered_ring(pugi::xml_node svg, const SvgBox& seen, const Particle& egg,
                       std::size_t number) {
  const SvgPoint place = point_of(egg);
  const double radius = egg.length_um / 2 + 15;
  pugi::xml_node group = add_group(svg, "counted");
  pugi::xml_node ring = add_dot(group, place, radius);
  set(ring, "fill", "none");
  set(ring, "stroke", counted_colour);
  set(ring, "stroke-width", 8);
  const bool to_the_left = place.x > seen.right() - radius - 100;
  pugi::xml_node label = add_label(
      group, {place.x + (to_the_left ? -1 : 1) * (radius + 10), std::max(place.y + 20, 0.0)},
      fmt::format("{}", number), to_the_left ? Anchor::end : Anchor::start, font_um);
  set(label, "fill", counted_colour);
  set(label, "font-weight", "bold");
}

/// Each egg is marked in the picture that has its lane, though another may show a part of it.
void draw_marks(pugi::xml_node svg, const ChamberView& view, const LaneRange& lanes) {
  const SvgBox seen = seen_of(view.spec, lanes);
  const auto is_of = [&](const Particle& egg) {
    const int lane = lane_of(view.spec, egg) + 1;
    return lane >= lanes.first && lane <= lanes.last;
  };
  std::size_t number = 0;
  for (const Particle& egg : counted_eggs(view))
    if (++number; is_of(egg))
      add_numbered_ring(svg, seen, egg, number);
  for (const Particle& each : view.particles)
    if (is_egg(each.kind) && is_of(each) && placing(view.spec, each) == Placing::left_out)
      add_cross(add_group(svg, "left-out"), point_of(each), each.length_um / 2 + 10, 8);
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
constexpr double panel_column = 156;
constexpr double panel_row = 132;
constexpr std::size_t panel_columns = 2;
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

void add_tick(pugi::xml_node parent, SvgPoint place) {
  pugi::xml_node tick = parent.append_child("polyline");
  set(tick, "points",
      fmt::format("{} {} {} {} {} {}", svg_number(place.x - 22), svg_number(place.y),
                  svg_number(place.x - 6), svg_number(place.y + 18), svg_number(place.x + 24),
                  svg_number(place.y - 22)));
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
  draw_particles(group, view.particles);
  for (const Particle& egg : view.particles) {
    // Beside the egg, so that where it touches can be seen.
    const SvgPoint place{egg.centre.x_um + 68, egg.centre.y_um - 36};
    if (placing(view.spec, egg) == Placing::counted)
      add_tick(group, place);
    else
      add_cross(group, place, 20, 9);
  }
}

/// Words of a line's own, in its colour, one under the other.
void add_line_words(pugi::xml_node svg, SvgPoint place, const std::vector<std::string_view>& words,
                    std::string_view colour) {
  for (const std::string_view line : words) {
    pugi::xml_node label = add_label(svg, place, line, Anchor::middle);
    set(label, "fill", colour);
    set(label, "font-weight", "bold");
    place.y += 13;
  }
}

} // namespace

std::vector<LaneRange> lane_pages(const ChamberSpec& spec) {
  constexpr double hair = 1e-6; // lengths that fit just so are not to fail by rounding
  const double room = picture_mm / chamber_scale * 1000 - 2 * spec.margin_um;
  const int together = std::max(1, static_cast<int>(room / lane_width(spec) + hair));
  std::vector<LaneRange> sheets;
  for (int first = 1; first <= spec.lanes; first += together)
    sheets.push_back({first, std::min(first + together - 1, spec.lanes)});
  return sheets;
}

std::string lane_words(const LaneRange& lanes) {
  return lanes.first == lanes.last ? fmt::format("lane {}", lanes.first)
                                   : fmt::format("lanes {} to {}", lanes.first, lanes.last);
}

double paper_width_mm(const ChamberSpec& spec, const LaneRange& lanes) {
  return chamber_scale * seen_of(spec, lanes).width / 1000;
}

std::string chamber_figure(const ChamberView& view, const LaneRange& lanes) {
  return ChamberDrawing(view, lanes, chamber_name(view, lanes),
                        ruled_words(view.spec, lanes) +
                            ", with eggs, air bubbles and plant bits strewn over it. It is to be "
                            "counted by eye; the key has the counts.")
      .text();
}

std::string key_figure(const ChamberView& view, const LaneRange& lanes) {
  const ChamberDrawing drawing(
      view, lanes, chamber_name(view, lanes) + ": key",
      ruled_words(view.spec, lanes) +
          ". Each egg counted is circled and numbered; those that the line rule leaves out are "
          "crossed. The table has the counts of each kind.");
  draw_marks(drawing.svg(), view, lanes);
  return drawing.text();
}

std::string lane_map(const ChamberSpec& spec, const LaneRange& lanes) {
  constexpr double lane = 22;
  constexpr double map_top = 20;
  constexpr double height = 60;
  const double left = NarrowFigure::margin;
  NarrowFigure figure("Where these lanes lie",
                      fmt::format("All {} lanes of the chamber side by side, to be counted from "
                                  "left to right, each from top to bottom. This sheet has {}.",
                                  spec.lanes, lane_words(lanes)),
                      2 * left + lane * spec.lanes);
  for (int i = 1; i <= spec.lanes; ++i) {
    const double x = left + lane * (i - 1);
    const bool here = i >= lanes.first && i <= lanes.last;
    pugi::xml_node box =
        add_box(figure.svg(), {x, map_top, lane, height}, here ? soft_colour : paper_colour);
    set(box, "stroke", ink);
    set(box, "stroke-width", here ? 2 : 0.7);
    set(add_label(figure.svg(), {x + lane / 2, map_top - 6}, fmt::format("{}", i), Anchor::middle),
        "font-weight", here ? "bold" : "normal");
    if (here)
      add_down_arrow(figure.svg(), {x + lane / 2, map_top + 8}, height - 16, 6, 1.4);
  }
  return figure.finished(map_top + height + 4);
}

std::string scale_bar() {
  constexpr double width = 780;
  constexpr double start = 20;
  const double mm = bar_um / 1000;
  NarrowFigure figure(
      "Scale bar",
      fmt::format("{:g} mm in the chamber are {:g} mm on paper.", mm, mm * chamber_scale), width);
  set(figure.svg(), "style",
      fmt::format("width: {:g}mm; font-family: Arial, 'Liberation Sans', Helvetica, sans-serif",
                  width / 1000 * chamber_scale));
  add_rule(figure.svg(), {start, 40}, {start + bar_um, 40}, ink, 16);
  for (const double x : {start, start + bar_um})
    add_rule(figure.svg(), {x, 15}, {x, 65}, ink, 10);
  add_label(figure.svg(), {start, 140}, fmt::format("{:g} mm in the chamber", mm), Anchor::start,
            font_um);
  add_label(figure.svg(), {start, 215}, fmt::format("{:g} mm on this paper", mm * chamber_scale),
            Anchor::start, font_um);
  return figure.finished(235);
}

std::string particle_panel() {
  NarrowFigure figure("What you may see",
                      "Each kind enlarged alike, with its mean size. The three kinds of egg are "
                      "counted; air bubbles and plant bits are not.");
  const double left = (NarrowFigure::full_width - panel_columns * panel_column) / 2;
  std::size_t place = 0;
  for (const PanelEntry& entry : panel_entries()) {
    const std::size_t row = place / panel_columns;
    const std::size_t column = place % panel_columns;
    draw_entry(figure.svg(), entry,
               {left + panel_column * static_cast<double>(column),
                4 + panel_row * static_cast<double>(row)});
    ++place;
  }
  draw_panel_bar(figure.svg(), {left + panel_column + 50, 4 + 2 * panel_row + panel_middle});
  return figure.finished(4 + 3 * panel_row);
}

std::string line_rule_figure() {
  NarrowFigure figure("The line rule",
                      "A square with eggs inside and on its lines. Ticked, and counted: eggs "
                      "inside, on the left line, on the top line, on their corner and on an inner "
                      "line. Crossed, and not counted: eggs on the right line, on the bottom line, "
                      "on the corners of these, and one over the upper end of the right line.");
  constexpr double scale = 0.32;
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
  add_line_words(figure.svg(), {left / 2 - 4, halfway + 4}, {"left line:", "count"},
                 counted_colour);
  add_line_words(figure.svg(), {NarrowFigure::full_width - 30, halfway + 4},
                 {"right line:", "do not", "count"}, left_out_colour);
  add_line_words(figure.svg(), {middle, bottom + 32}, {"bottom line: do not count"},
                 left_out_colour);
  return figure.finished(bottom + 40);
}

} // namespace eggfall
