#include "teach/chamber/particle_drawing.hpp"

#include "eggfall/base/random_stream.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <boost/math/constants/constants.hpp>
#include <boost/random/uniform_01.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr double two_pi = boost::math::constants::two_pi<double>();

/// The luck in a particle's details.
class Look {
public:
  explicit Look(const Particle& particle)
      : stream_({particle.look, stream_group("look", to_string(particle.kind)), 0}) {}

  double between(double least, double most) { return least + (most - least) * uniform_(stream_); }
  std::uint32_t whole(std::uint32_t least, std::uint32_t most) {
    return least + stream_.below(most - least + 1);
  }
  bool by_half() { return whole(0, 1) == 1; }

private:
  RandomStream stream_;
  boost::random::uniform_01<double> uniform_;
};

/// What a shape is filled and outlined with.
struct Paint {
  std::string_view fill = "none";
  double fill_opacity = 1;
  std::string_view stroke = "none";
  double stroke_width = 0;
};

pugi::xml_node painted(pugi::xml_node node, const Paint& paint) {
  set(node, "fill", paint.fill);
  if (paint.fill_opacity < 1)
    set(node, "fill-opacity", paint.fill_opacity);
  if (paint.stroke != "none") {
    set(node, "stroke", paint.stroke);
    set(node, "stroke-width", paint.stroke_width);
  }
  return node;
}

std::string point_text(SvgPoint place) {
  return fmt::format("{:.1f} {:.1f}", place.x, place.y);
}

/// A closed outline with straight sides, or an open line.
std::string path_through(const std::vector<SvgPoint>& points, bool closed) {
  std::string path;
  for (const SvgPoint& point : points)
    path += (path.empty() ? "M" : "L") + point_text(point);
  return path + (closed ? "Z" : "");
}

/// A start, and then Bezier curves of two handles and an end each.
std::string curve_through(const std::vector<SvgPoint>& points) {
  std::string path = "M" + point_text(points.front());
  for (std::size_t i = 1; i < points.size(); ++i)
    path += (i % 3 == 1 ? "C" : " ") + point_text(points[i]);
  return path;
}

pugi::xml_node add_path(pugi::xml_node parent, const std::string& path, const Paint& paint) {
  pugi::xml_node node = parent.append_child("path");
  set(node, "d", path);
  return painted(node, paint);
}

pugi::xml_node add_ellipse(pugi::xml_node parent, double rx, double ry, const Paint& paint) {
  pugi::xml_node node = parent.append_child("ellipse");
  set(node, "rx", rx);
  set(node, "ry", ry);
  return painted(node, paint);
}

/// Centres of cells spread evenly over an ellipse: each the farthest from the others of some places
/// tried (Mitchell's best candidate).
std::vector<SvgPoint> spread_cells(Look& look, std::uint32_t number, double rx, double ry) {
  constexpr int tries = 24;
  std::vector<SvgPoint> cells;
  const auto to_nearest = [&cells](SvgPoint place) {
    double nearest = std::numeric_limits<double>::max();
    for (const SvgPoint& cell : cells)
      nearest = std::min(nearest, std::hypot(place.x - cell.x, place.y - cell.y));
    return nearest;
  };
  while (cells.size() < number) {
    SvgPoint best;
    double farthest = -1;
    for (int i = 0; i < tries; ++i) {
      const double turn = look.between(0, two_pi);
      const double out = std::sqrt(look.between(0, 1));
      const SvgPoint place{rx * out * std::cos(turn), ry * out * std::sin(turn)};
      if (const double distance = to_nearest(place); distance > farthest) {
        farthest = distance;
        best = place;
      }
    }
    cells.push_back(best);
  }
  return cells;
}

void add_cells(pugi::xml_node parent, Look& look, std::uint32_t number, SvgPoint room,
               const Paint& paint) {
  const double radius = std::sqrt(room.x * room.y / number);
  for (const SvgPoint& place : spread_cells(look, number, room.x - radius / 2, room.y - radius / 2))
    painted(add_dot(parent, place, radius * look.between(0.85, 1.05)), paint);
}

void draw_strongyle_type(pugi::xml_node parent, const Particle& egg, Look& look) {
  constexpr double wall = 3;
  add_ellipse(parent, (egg.length_um - wall) / 2, (egg.width_um - wall) / 2,
              {"#f4ead2", 0.6, "#3a2f1f", wall});
  add_cells(parent, look, look.whole(8, 16), {0.36 * egg.length_um, 0.35 * egg.width_um},
            {"#b09a6c", 0.85, "#4a3d25", 1.5});
}

/// The outline of ParticleSize, the wall's half within.
std::vector<SvgPoint> outline(const Particle& particle, double wall) {
  constexpr int points = 48;
  const double taper = size_of(particle.kind).taper;
  std::vector<SvgPoint> result;
  for (int i = 0; i < points; ++i) {
    const double turn = two_pi * i / points;
    const double v = std::pow(std::abs(std::sin(turn)), 2 * taper);
    result.push_back({(particle.length_um - wall) / 2 * std::cos(turn),
                      (particle.width_um - wall) / 2 * std::copysign(v, std::sin(turn))});
  }
  return result;
}

void draw_nematodirus_like(pugi::xml_node parent, const Particle& egg, Look& look) {
  constexpr double wall = 4;
  add_path(parent, path_through(outline(egg, wall), true), {"#f4f1e4", 0.6, "#2d2a24", wall});
  add_cells(parent, look, look.whole(4, 8), {0.24 * egg.length_um, 0.32 * egg.width_um},
            {"#57503f", 0.9, "#1f1b14", 2});
}

/// A larva folded twice, in half-lengths and half-widths: a point, then three to each bend.
constexpr std::array<SvgPoint, 10> coil{{{-0.66, 0.1},
                                         {-0.55, -0.75},
                                         {0.45, -0.8},
                                         {0.66, -0.1},
                                         {0.75, 0.6},
                                         {0.1, 0.75},
                                         {-0.3, 0.5},
                                         {-0.55, 0.2},
                                         {-0.1, -0.1},
                                         {0.28, 0}}};

void draw_strongyloides_like(pugi::xml_node parent, const Particle& egg, Look& look) {
  constexpr double wall = 2;
  const double a = egg.length_um / 2 * (look.by_half() ? 1 : -1);
  const double b = egg.width_um / 2 * (look.by_half() ? 1 : -1);
  add_ellipse(parent, (egg.length_um - wall) / 2, (egg.width_um - wall) / 2,
              {"#f2eee2", 0.6, "#3a2f1f", wall});
  std::vector<SvgPoint> larva;
  for (const auto& [u, v] : coil)
    larva.push_back({a * (u + look.between(-0.04, 0.04)), b * (v + look.between(-0.06, 0.06))});
  set(add_path(parent, curve_through(larva), {"none", 1, "#5a4528", 0.17 * egg.width_um}),
      "stroke-linecap", "round");
}

void draw_bubble(pugi::xml_node parent, const Particle& bubble, Look& look) {
  const double radius = bubble.length_um / 2;
  const double rim = radius * look.between(0.28, 0.4);
  painted(add_dot(parent, {}, radius - rim / 2), {"#ffffff", 1, "#1c1c1c", rim});
  painted(add_dot(parent, {-0.72 * radius, -0.45 * radius}, 0.07 * radius), {"#ffffff"});
}

/// Plant bits are pale, so that an egg's dark wall stands out among them in black and white too.
void draw_fibre(pugi::xml_node parent, const Particle& bit, Look& look) {
  const double reach = bit.length_um / 2;
  const double bend = 0.4 * bit.width_um;
  const std::string path = curve_through({{-reach, look.between(-bend, bend)},
                                          {-reach / 3, look.between(-2 * bend, 2 * bend)},
                                          {reach / 3, look.between(-2 * bend, 2 * bend)},
                                          {reach, look.between(-bend, bend)}});
  const double thick = look.between(9, 16);
  add_path(parent, path, {"none", 1, "#a9a77c", thick});
  add_path(parent, path, {"none", 1, "#f0eeda", thick / 2});
}

void draw_shred(pugi::xml_node parent, const Particle& bit, Look& look) {
  const std::uint32_t corners = look.whole(8, 13);
  std::vector<SvgPoint> jagged;
  for (std::uint32_t i = 0; i < corners; ++i) {
    const double turn = two_pi * (i + look.between(-0.3, 0.3)) / corners;
    const double out = look.between(0.55, 1);
    jagged.push_back(
        {bit.length_um / 2 * out * std::cos(turn), bit.width_um / 2 * out * std::sin(turn)});
  }
  set(add_path(parent, path_through(jagged, true), {"#ebe9d2", 1, "#a9a77c", 3}), "stroke-linejoin",
      "round");
  // A vein or a cell wall that ends where the edge may be nearest.
  const double along = 0.45 * bit.length_um / 2;
  const double across = 0.3 * bit.width_um / 2;
  add_path(
      parent,
      path_through(
          {{-along, look.between(-across, across)}, {along, look.between(-across, across)}}, false),
      {"none", 1, "#a9a77c", 2});
}

void draw_plant_bit(pugi::xml_node parent, const Particle& bit, Look& look) {
  if (look.by_half())
    draw_fibre(parent, bit, look);
  else
    draw_shred(parent, bit, look);
}

} // namespace

std::string kind_class(ParticleKind kind) {
  std::string name(to_string(kind));
  std::ranges::replace(name, ' ', '-');
  return name;
}

pugi::xml_node add_particle(pugi::xml_node parent, const Particle& particle) {
  constexpr double degrees = 360 / two_pi;
  pugi::xml_node group = add_group(parent, kind_class(particle.kind));
  set(group, "transform",
      fmt::format("translate({} {}) rotate({})", svg_number(particle.centre.x_um),
                  svg_number(particle.centre.y_um), svg_number(particle.angle * degrees)));
  Look look(particle);
  switch (particle.kind) {
  case ParticleKind::strongyle_type:
    draw_strongyle_type(group, particle, look);
    break;
  case ParticleKind::nematodirus_like:
    draw_nematodirus_like(group, particle, look);
    break;
  case ParticleKind::strongyloides_like:
    draw_strongyloides_like(group, particle, look);
    break;
  case ParticleKind::air_bubble:
    draw_bubble(group, particle, look);
    break;
  case ParticleKind::plant_bit:
    draw_plant_bit(group, particle, look);
    break;
  }
  return group;
}

} // namespace eggfall
