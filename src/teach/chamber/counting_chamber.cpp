#include "teach/chamber/counting_chamber.hpp"

#include "base/check_range.hpp"
#include "base/enum_names.hpp"
#include "eggfall/base/error.hpp"
#include "statistics/random_draws.hpp"

#include <boost/math/constants/constants.hpp>
#include <boost/math/tools/minima.hpp>
#include <boost/random/uniform_01.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace eggfall {
namespace {

constexpr Names<ParticleKind, 5> kind_names{{
    {ParticleKind::strongyle_type, "strongyle-type egg"},
    {ParticleKind::nematodirus_like, "Nematodirus-like egg"},
    {ParticleKind::strongyloides_like, "Strongyloides-like egg"},
    {ParticleKind::air_bubble, "air bubble"},
    {ParticleKind::plant_bit, "plant bit"},
}};

constexpr double most_a_chamber = 2'000;

void check(const ChamberSpec& spec) {
  check_range("chamber, side (micrometres)", spec.side_um, 500, 50'000);
  check_range("chamber, depth (micrometres)", spec.depth_um, 100, 10'000);
  check_range("chamber, lanes", spec.lanes, 1, 20);
  check_range("chamber, margin (micrometres)", spec.margin_um, 0, 5'000);
  check_range("chamber, bubbles", spec.bubbles, 0, most_a_chamber);
  check_range("chamber, plant bits", spec.plant_bits, 0, most_a_chamber);
}

/// The most that bell_draw() gives.
constexpr double furthest = 3;

/// A bell-shaped variable of mean 0 and standard deviation 1 that never leaves -3 to 3: a sum of
/// three uniform ones.
double bell_draw(RandomStream& stream) {
  boost::random::uniform_01<double> uniform;
  double sum = 0;
  for (int i = 0; i < 3; ++i)
    sum += uniform(stream);
  return 2 * sum - furthest;
}

/// No point of a particle of the kind lies further from its centre.
double reach(ParticleKind kind) {
  const ParticleSize& size = size_of(kind);
  const double length = size.length_um * (1 + furthest * size.length_cv);
  const double width =
      size.width_um * (1 + furthest * size.length_cv) * (1 + furthest * size.width_cv);
  return std::hypot(length, width) / 2;
}

double longest_reach() {
  return reach(*std::ranges::max_element(particle_kinds, {}, reach));
}

Particle particle_draw(ParticleKind kind, double least, double most, RandomStream& stream) {
  boost::random::uniform_01<double> uniform;
  const ParticleSize& size = size_of(kind);
  Particle result;
  result.kind = kind;
  result.centre.x_um = least + (most - least) * uniform(stream);
  result.centre.y_um = least + (most - least) * uniform(stream);
  const double growth = 1 + size.length_cv * bell_draw(stream);
  result.length_um = size.length_um * growth;
  result.width_um = size.width_um * growth * (1 + size.width_cv * bell_draw(stream));
  result.angle = boost::math::constants::two_pi<double>() * uniform(stream);
  result.look = stream();
  return result;
}

void strew(ChamberView& view, ParticleKind kind, double mean_a_chamber, std::uint64_t seed) {
  RandomStream stream(
      {seed, stream_group("counting chamber " + view.sample, to_string(kind)), view.chamber});
  const double border = view.spec.margin_um + reach(kind);
  const double extent = (view.spec.side_um + 2 * border) / view.spec.side_um;
  const EggsSeen number = poisson_draw(mean_a_chamber * extent * extent, stream);
  for (std::uint32_t i = 0; i < number.value(); ++i)
    view.particles.push_back(particle_draw(kind, -border, view.spec.side_um + border, stream));
}

/// Along and across a particle, in its half-lengths and half-widths.
struct OwnPoint {
  double u = 0;
  double v = 0;
};

OwnPoint seen_from(const Particle& particle, ChamberPoint point) {
  const double x = point.x_um - particle.centre.x_um;
  const double y = point.y_um - particle.centre.y_um;
  const double cosine = std::cos(particle.angle);
  const double sine = std::sin(particle.angle);
  return {2 * (cosine * x + sine * y) / particle.length_um,
          2 * (cosine * y - sine * x) / particle.width_um};
}

OwnPoint between(OwnPoint from, OwnPoint to, double part) {
  return {std::lerp(from.u, to.u, part), std::lerp(from.v, to.v, part)};
}

/// Above 0 outside of the outline, below within; convex where |u| <= 1.
double beyond_outline(OwnPoint point, double taper) {
  return std::abs(point.v) - std::pow(std::max(0.0, 1 - point.u * point.u), taper);
}

/// The part of the line from 0 to 1 where |u| <= 1; first > second if there is none.
std::pair<double, double> alongside(OwnPoint from, OwnPoint to) {
  const double run = to.u - from.u;
  if (run == 0)
    return std::abs(from.u) <= 1 ? std::pair{0.0, 1.0} : std::pair{1.0, 0.0};
  const double one = (-1 - from.u) / run;
  const double other = (1 - from.u) / run;
  return {std::max(0.0, std::min(one, other)), std::min(1.0, std::max(one, other))};
}

bool touches_square(const Particle& egg, double side) {
  const auto within = [side](double position) { return position >= 0 && position <= side; };
  return (within(egg.centre.x_um) && within(egg.centre.y_um)) || touches(egg, {0, 0}, {side, 0}) ||
         touches(egg, {0, 0}, {0, side}) || touches(egg, {side, 0}, {side, side}) ||
         touches(egg, {0, side}, {side, side});
}

} // namespace

std::string_view to_string(ParticleKind kind) {
  return name_of(kind_names, kind, "a particle");
}

const ParticleSize& size_of(ParticleKind kind) {
  static constexpr std::array<ParticleSize, particle_kinds.size()> sizes{{
      {85, 45, 0.06, 0.04, 0.5},
      {200, 90, 0.06, 0.04, 0.7},
      {50, 25, 0.06, 0.04, 0.5},
      {110, 110, 0.25, 0, 0.5},
      {220, 80, 0.25, 0.2, 0.5},
  }};
  return sizes.at(static_cast<std::size_t>(kind));
}

double chamber_volume_ml(const ChamberSpec& spec) {
  constexpr double cubic_um_a_ml = 1e12;
  return spec.side_um * spec.side_um * spec.depth_um / cubic_um_a_ml;
}

BenchFigures bench_figures(const ChamberSpec& spec, int chambers) {
  return {spec.faeces_g, spec.fluid_ml, {}, chambers, chamber_volume_ml(spec)};
}

double expected_eggs(const ChamberSpec& spec, Epg epg, int chambers) {
  return epg.value() / multiplication_factor(bench_figures(spec, chambers)).value();
}

ChamberView chamber_view(const ChamberSpec& spec, const FaecesSample& sample, std::uint64_t seed,
                         std::uint32_t chamber) {
  check(spec);
  if (chamber == 0)
    throw InputError("counting chamber, number: found 0; expected 1 or more");
  ChamberView view{spec, sample.name, chamber, {}};
  strew(view, ParticleKind::plant_bit, spec.plant_bits, seed);
  strew(view, ParticleKind::air_bubble, spec.bubbles, seed);
  for (std::size_t i = 0; i < egg_kinds.size(); ++i) {
    const double mean = expected_eggs(spec, sample.epg[i], 1);
    check_range(fmt::format("chamber, {}s expected", to_string(egg_kinds[i])), mean, 0,
                most_a_chamber);
    strew(view, egg_kinds[i], mean, seed);
  }
  return view;
}

bool touches(const Particle& particle, ChamberPoint from, ChamberPoint to) {
  const OwnPoint start = seen_from(particle, from);
  const OwnPoint end = seen_from(particle, to);
  const auto [first, last] = alongside(start, end);
  if (first > last)
    return false;
  const auto beyond = [&, taper = size_of(particle.kind).taper](double part) {
    return beyond_outline(between(start, end, part), taper);
  };
  if (beyond(first) <= 0 || beyond(last) <= 0)
    return true;
  constexpr int bits = std::numeric_limits<double>::digits / 2;
  return boost::math::tools::brent_find_minima(beyond, first, last, bits).second <= 0;
}

Placing placing(const ChamberSpec& spec, const Particle& egg) {
  if (!touches_square(egg, spec.side_um))
    return Placing::outside;
  const double side = spec.side_um;
  const double upward = -2 * longest_reach(); // as good as without end, for what touches the square
  const bool barred =
      touches(egg, {0, side}, {side, side}) || touches(egg, {side, upward}, {side, side});
  return barred ? Placing::left_out : Placing::counted;
}

int lane_of(const ChamberSpec& spec, const Particle& egg) {
  const double lane = std::floor(egg.centre.x_um / spec.side_um * spec.lanes);
  return std::clamp(static_cast<int>(lane), 0, spec.lanes - 1);
}

bool is_egg(ParticleKind kind) {
  return std::ranges::find(egg_kinds, kind) != egg_kinds.end();
}

std::vector<Particle> counted_eggs(const ChamberView& view) {
  std::vector<Particle> eggs;
  for (const Particle& each : view.particles)
    if (is_egg(each.kind) && placing(view.spec, each) == Placing::counted)
      eggs.push_back(each);
  std::ranges::sort(eggs, {}, [&view](const Particle& egg) {
    return std::tuple(lane_of(view.spec, egg), egg.centre.y_um);
  });
  return eggs;
}

EggsSeen eggs_counted(const ChamberView& view, ParticleKind kind) {
  const std::vector<Particle> eggs = counted_eggs(view);
  return EggsSeen(static_cast<std::uint32_t>(std::ranges::count(eggs, kind, &Particle::kind)));
}

} // namespace eggfall
