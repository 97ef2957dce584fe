#pragma once

#include "eggfall/trial/counting_method.hpp"
#include "eggfall/trial/egg_count.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// What floats under a ruled counting chamber.
enum class ParticleKind {
  strongyle_type,
  nematodirus_like,
  strongyloides_like,
  air_bubble,
  plant_bit
};

/// Those that are counted.
inline constexpr std::array egg_kinds{ParticleKind::strongyle_type, ParticleKind::nematodirus_like,
                                      ParticleKind::strongyloides_like};

inline constexpr std::array particle_kinds{
    ParticleKind::strongyle_type, ParticleKind::nematodirus_like, ParticleKind::strongyloides_like,
    ParticleKind::air_bubble, ParticleKind::plant_bit};

/// "strongyle-type egg", "air bubble", ...
std::string_view to_string(ParticleKind kind);

/// How large a kind is, and its outline. With u along the length and v along the width, each -1 to
/// 1, the outline is |v| = (1 - u^2)^taper: 0.5 is an ellipse, more has tapered ends. It is convex
/// from 0.5 to 1.
struct ParticleSize {
  double length_um = 0; ///< Mean, micrometres.
  double width_um = 0;  ///< Mean, micrometres.
  double length_cv = 0; ///< Coefficient of variation of the length.
  double width_cv = 0;  ///< That of the width at a given length; 0 keeps the shape.
  double taper = 0.5;
};

/// The sizes of eggs are rough ones out of textbooks, written down from memory: check them against
/// a parasitology textbook or your laboratory's plates. Their variation, and the sizes of bubbles
/// and plant bits, are invented.
const ParticleSize& size_of(ParticleKind kind);

/// Micrometres from the top left corner of the ruled square, y downward.
struct ChamberPoint {
  double x_um = 0;
  double y_um = 0;
};

/// One egg, bubble or plant bit.
struct Particle {
  ParticleKind kind = ParticleKind::strongyle_type;
  ChamberPoint centre;
  double length_um = 0;
  double width_um = 0;
  double angle = 0;       ///< Of the length against the x axis, radians, clockwise as seen.
  std::uint32_t look = 0; ///< What a drawing takes its details from.
};

/// A ruled square over a suspension, and how the suspension is made.
struct ChamberSpec {
  double side_um = 10'000; ///< 500 to 50,000.
  double depth_um = 1'500; ///< 100 to 10,000.
  int lanes = 6;           ///< Parted by upright inner lines; 1 to 20.
  double margin_um = 250;  ///< Seen around the square; 0 to 5,000.
  double faeces_g = 3;     ///< More than 0.
  double fluid_ml = 42;    ///< Flotation fluid added to the faeces; more than 0.
  double bubbles = 10;     ///< Mean number a chamber; 0 to 2,000.
  double plant_bits = 20;  ///< Mean number a chamber; 0 to 2,000.
};

/// Volume under the ruled square, mL: side x side x depth.
double chamber_volume_ml(const ChamberSpec& spec);

/// What is written down at the bench if so many chambers are counted.
BenchFigures bench_figures(const ChamberSpec& spec, int chambers);

/// Faeces with a known number of eggs in them.
struct FaecesSample {
  std::string name;
  std::array<Epg, egg_kinds.size()> epg; ///< In the order of `egg_kinds`.
};

/// Eggs of a kind expected in so many chambers: EPG / factor, that is
/// EPG x grams / volume of the suspension x volume counted.
double expected_eggs(const ChamberSpec& spec, Epg epg, int chambers);

/// What is seen through one chamber.
struct ChamberView {
  ChamberSpec spec;
  std::string sample;
  std::uint32_t chamber = 0; ///< Which of the sample's chambers, from 1.
  std::vector<Particle> particles;
};

/// Chamber number `chamber` of a sample. Particles lie as a homogeneous Poisson process, at any
/// angle, over the square and a border so wide that all that touch what is seen can occur: each
/// kind's number is Poisson with mean density x area, and all chambers of a sample have one
/// density. Lengths and widths are the kind's mean x (1 + CV x Z), with Z a sum of three uniform
/// variables scaled to mean 0 and standard deviation 1, so never beyond 3. Each kind has a stream
/// of its own, keyed by seed, sample, kind and chamber: more of one leaves the others where they
/// were.
/// @throws InputError for a number of `spec` out of range, a chamber 0, or more than 2,000 eggs of
///   a kind expected in a chamber.
ChamberView chamber_view(const ChamberSpec& spec, const FaecesSample& sample, std::uint64_t seed,
                         std::uint32_t chamber);

/// Whether any point of the particle's outline or inside lies on the straight line from `from` to
/// `to`. The exact outline, rotated, is meant and not its box; tangents are found to about 1e-8 of
/// its size.
bool touches(const Particle& particle, ChamberPoint from, ChamberPoint to);

/// What the line rule says of an egg.
enum class Placing {
  counted,
  left_out, ///< It touches the square, but also a line that bars it.
  outside,  ///< It does not touch the square.
};

/// The line rule: an egg that touches the square is counted, on its left or top line too, unless it
/// touches the right or bottom line, their corners included. Common practice of counting frames;
/// lines are judged by their middle, inner lines do not matter.
///
/// For this to be unbiased the right line is thought to go on upward without end, and an egg on
/// that part is left out too: of all frames of an endless grid an egg is then counted in exactly
/// one, the lowest of the rightmost it touches, so that the positions where it is counted have the
/// area of the square whatever its shape. (A left line that goes on downward is needed for eggs
/// that are not convex.) The rule is that of Gundersen 1977, Journal of Microscopy 111:219-223;
/// from memory, not looked up.
Placing placing(const ChamberSpec& spec, const Particle& egg);

/// The lane, from 0, that holds an egg's centre; the nearest for a centre outside.
int lane_of(const ChamberSpec& spec, const Particle& egg);

bool is_egg(ParticleKind kind);

/// The eggs that the rule counts, lane after lane and in each from top to bottom.
std::vector<Particle> counted_eggs(const ChamberView& view);

/// How many of a kind the rule counts.
EggsSeen eggs_counted(const ChamberView& view, ParticleKind kind);

} // namespace eggfall
