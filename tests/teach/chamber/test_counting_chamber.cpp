#include "teach/chamber/counting_chamber.hpp"

#include "support/support.hpp"

#include <boost/math/constants/constants.hpp>

#include <algorithm>
#include <cmath>

using namespace eggfall;

namespace {

constexpr double pi = boost::math::constants::pi<double>();

Particle egg_at(double x, double y, double angle = 0,
                ParticleKind kind = ParticleKind::strongyle_type) {
  const ParticleSize& size = size_of(kind);
  return {kind, {x, y}, size.length_um, size.width_um, angle, 0};
}

/// Half of what an ellipse covers along x; along y with the angle turned by a quarter.
double half_extent(const Particle& egg) {
  return std::hypot(egg.length_um / 2 * std::cos(egg.angle),
                    egg.width_um / 2 * std::sin(egg.angle));
}

double half_height(Particle egg) {
  egg.angle += pi / 2;
  return half_extent(egg);
}

FaecesSample sample_of(double strongyle_type, double nematodirus_like = 0,
                       double strongyloides_like = 0) {
  return {"A", {Epg(strongyle_type), Epg(nematodirus_like), Epg(strongyloides_like)}};
}

/// So small that many eggs lie on its lines.
ChamberSpec small_chamber() {
  ChamberSpec spec;
  spec.side_um = 500;
  spec.bubbles = 0;
  spec.plant_bits = 0;
  return spec;
}

bool same(const Particle& a, const Particle& b) {
  return a.kind == b.kind && a.centre.x_um == b.centre.x_um && a.centre.y_um == b.centre.y_um &&
         a.length_um == b.length_um && a.width_um == b.width_um && a.angle == b.angle &&
         a.look == b.look;
}

bool same(const ChamberView& a, const ChamberView& b) {
  return std::ranges::equal(a.particles, b.particles,
                            [](const Particle& x, const Particle& y) { return same(x, y); });
}

std::vector<Particle> of_kind(const ChamberView& view, ParticleKind kind) {
  std::vector<Particle> found;
  std::ranges::copy_if(view.particles, std::back_inserter(found),
                       [kind](const Particle& each) { return each.kind == kind; });
  return found;
}

} // namespace

TEST_CASE("An egg well inside is counted, one well outside is not there", "[chamber]") {
  const ChamberSpec spec;
  CHECK(placing(spec, egg_at(5'000, 5'000)) == Placing::counted);
  for (const double far : {-100.0, 10'100.0}) {
    CHECK(placing(spec, egg_at(far, 5'000)) == Placing::outside);
    CHECK(placing(spec, egg_at(5'000, far)) == Placing::outside);
  }
}

TEST_CASE("Left and top line count, right and bottom line bar", "[chamber]") {
  const ChamberSpec spec;
  const double side = spec.side_um;
  CHECK(placing(spec, egg_at(0, 3'000)) == Placing::counted);
  CHECK(placing(spec, egg_at(3'000, 0)) == Placing::counted);
  CHECK(placing(spec, egg_at(side, 3'000)) == Placing::left_out);
  CHECK(placing(spec, egg_at(3'000, side)) == Placing::left_out);
}

TEST_CASE("Of the corners only the top left one counts", "[chamber]") {
  const ChamberSpec spec;
  const double side = spec.side_um;
  CHECK(placing(spec, egg_at(0, 0)) == Placing::counted);
  CHECK(placing(spec, egg_at(side, 0)) == Placing::left_out);
  CHECK(placing(spec, egg_at(0, side)) == Placing::left_out);
  CHECK(placing(spec, egg_at(side, side)) == Placing::left_out);
}

TEST_CASE("An egg on an inner line is counted once, in the lane with its centre", "[chamber]") {
  ChamberView view;
  view.spec.lanes = 5;
  view.particles = {egg_at(4'010, 3'000), egg_at(1'999, 8'000), egg_at(-1, 100)};
  CHECK(placing(view.spec, view.particles[0]) == Placing::counted);
  CHECK(lane_of(view.spec, view.particles[0]) == 2);
  CHECK(lane_of(view.spec, view.particles[1]) == 0);
  CHECK(lane_of(view.spec, view.particles[2]) == 0);
  const std::vector<Particle> counted = counted_eggs(view);
  REQUIRE(counted.size() == 3); // lane by lane, from the top
  CHECK(same(counted[0], view.particles[2]));
  CHECK(same(counted[1], view.particles[1]));
  CHECK(same(counted[2], view.particles[0]));
}

TEST_CASE("A rotated egg touches a line as far as an ellipse reaches", "[chamber]") {
  const ChamberSpec spec;
  const double side = spec.side_um;
  const double hair = 0.001; // micrometres
  for (int step = 0; step < 24; ++step) {
    const double angle = pi * step / 24 + 0.01;
    INFO("angle " << angle);
    const double across = half_extent(egg_at(0, 0, angle));
    const double down = half_height(egg_at(0, 0, angle));
    CHECK(placing(spec, egg_at(side - across - hair, 4'000, angle)) == Placing::counted);
    CHECK(placing(spec, egg_at(side - across + hair, 4'000, angle)) == Placing::left_out);
    CHECK(placing(spec, egg_at(side + across + hair, 4'000, angle)) == Placing::outside);
    CHECK(placing(spec, egg_at(-across + hair, 4'000, angle)) == Placing::counted);
    CHECK(placing(spec, egg_at(-across - hair, 4'000, angle)) == Placing::outside);
    CHECK(placing(spec, egg_at(4'000, side - down - hair, angle)) == Placing::counted);
    CHECK(placing(spec, egg_at(4'000, side - down + hair, angle)) == Placing::left_out);
    CHECK(placing(spec, egg_at(4'000, -down + hair, angle)) == Placing::counted);
    CHECK(placing(spec, egg_at(4'000, -down - hair, angle)) == Placing::outside);
  }
}

TEST_CASE("Tapered ends reach less far than an ellipse, and the tips as far", "[chamber]") {
  const auto tapered = ParticleKind::nematodirus_like;
  const ChamberSpec spec;
  const double slanted = pi / 4;
  const Particle egg = egg_at(0, 0, slanted, tapered);
  CHECK(placing(spec, egg_at(-half_extent(egg) + 1, 4'000, slanted, tapered)) == Placing::outside);
  CHECK(placing(spec, egg_at(-egg.length_um / 2 + 0.001, 4'000, 0, tapered)) == Placing::counted);
  CHECK(placing(spec, egg_at(-egg.length_um / 2 - 0.001, 4'000, 0, tapered)) == Placing::outside);
}

TEST_CASE("A line that ends before the egg does not touch it", "[chamber]") {
  const Particle egg = egg_at(0, 0);
  CHECK(touches(egg, {-200, 0}, {-42.4, 0}));
  CHECK_FALSE(touches(egg, {-200, 0}, {-42.6, 0}));
  CHECK(touches(egg, {0, 22.4}, {0, 300}));
  CHECK_FALSE(touches(egg, {0, 22.6}, {0, 300}));
  CHECK(touches(egg, {1, 1}, {2, 1})); // wholly within
}

TEST_CASE("An egg over the upper end of the right line is left out", "[chamber]") {
  const ChamberSpec spec;
  // It rises to the right at 45 degrees, over the top line and past the corner.
  const Particle passing = egg_at(spec.side_um - 16, -20, 3 * pi / 4);
  CHECK(touches(passing, {0, 0}, {spec.side_um, 0}));
  CHECK_FALSE(touches(passing, {spec.side_um, 0}, {spec.side_um, spec.side_um}));
  CHECK(placing(spec, passing) == Placing::left_out);
}

TEST_CASE("Of all squares of an endless grid one counts an egg, whatever its shape", "[chamber]") {
  // Centres a step apart that divides the side stand for all squares of the grid at once: if each
  // egg is counted in one square, as many positions count as steps fit into the square.
  ChamberSpec spec = small_chamber();
  constexpr int steps = 50;
  const double step = spec.side_um / steps;
  for (const ParticleKind kind : egg_kinds)
    for (const double angle : {0.0, 0.4, pi / 4, 1.1, pi / 2, 2.0, 3 * pi / 4, 2.9}) {
      int counted = 0;
      for (int i = -steps; i < 2 * steps; ++i)
        for (int j = -steps; j < 2 * steps; ++j) {
          const Particle egg = egg_at((i + 0.317) * step, (j + 0.713) * step, angle, kind);
          counted += placing(spec, egg) == Placing::counted ? 1 : 0;
        }
      INFO(to_string(kind) << " at " << angle);
      CHECK(counted == steps * steps);
    }
}

TEST_CASE("The mean number counted is density times area, and its spread Poisson", "[chamber]") {
  const ChamberSpec spec = small_chamber();
  constexpr double expected = 4;
  const double epg = expected * multiplication_factor(bench_figures(spec, 1)).value();
  constexpr int chambers = 3'000;
  for (const ParticleKind kind : egg_kinds) {
    double sum = 0;
    double squares = 0;
    for (std::uint32_t seed = 0; seed < chambers; ++seed) {
      const double eggs =
          eggs_counted(chamber_view(spec, sample_of(epg, epg, epg), seed, 1), kind).value();
      sum += eggs;
      squares += eggs * eggs;
    }
    const double mean = sum / chambers;
    const double variance = (squares - sum * mean) / (chambers - 1);
    INFO(to_string(kind));
    // Four standard errors: of a Poisson mean, and of the dispersion of n - 1 degrees of freedom.
    CHECK_THAT(mean, Catch::WithinAbs(expected, 4 * std::sqrt(expected / chambers)));
    CHECK_THAT(variance / mean, Catch::WithinAbs(1, 4 * std::sqrt(2.0 / (chambers - 1))));
  }
}

TEST_CASE("Angles, places and sizes have the means they should have", "[chamber]") {
  ChamberSpec spec;
  spec.bubbles = 1'500;
  spec.plant_bits = 1'500;
  const ChamberView view = chamber_view(spec, sample_of(100'000, 100'000, 100'000), 5, 1);
  for (const ParticleKind kind : particle_kinds) {
    const std::vector<Particle> found = of_kind(view, kind);
    const ParticleSize& size = size_of(kind);
    const double n = static_cast<double>(found.size());
    REQUIRE(n > 500);
    double x = 0;
    double length = 0;
    double width = 0;
    double turned = 0;
    for (const Particle& each : found) {
      x += each.centre.x_um / n;
      length += each.length_um / n;
      width += each.width_um / n;
      turned += std::cos(2 * each.angle) / n;
      CHECK(std::abs(each.length_um / size.length_um - 1) <= 3 * size.length_cv);
    }
    INFO(to_string(kind));
    // Uniform over somewhat more than 10,000; cos of a uniform angle has variance 1/2.
    CHECK_THAT(x, Catch::WithinAbs(5'000, 4 * 11'000 / std::sqrt(12 * n)));
    CHECK_THAT(turned, Catch::WithinAbs(0, 4 * std::sqrt(0.5 / n)));
    CHECK_THAT(length, Catch::WithinAbs(size.length_um,
                                        4 * size.length_cv * size.length_um / std::sqrt(n)));
    // The two CVs together are at most their sum.
    CHECK_THAT(width, Catch::WithinAbs(size.width_um, 4 * (size.length_cv + size.width_cv) *
                                                          size.width_um / std::sqrt(n)));
  }
}

TEST_CASE("A chamber expects EPG x grams / mL x its volume", "[chamber]") {
  const ChamberSpec spec;
  CHECK_THAT(chamber_volume_ml(spec),
             Catch::WithinRel(0.15, support::other_order)); // 10 x 10 x 1.5 mm
  CHECK_THAT(expected_eggs(spec, Epg(400), 1),
             Catch::WithinRel(400 * 3.0 / 45 * 0.15, support::other_order));
  CHECK_THAT(expected_eggs(spec, Epg(400), 2), Catch::WithinRel(8, support::other_order));
  CHECK_THAT(multiplication_factor(bench_figures(spec, 2)).value(),
             Catch::WithinRel(50, support::other_order));
}

TEST_CASE("A view is the same for the same seed and another for any other key", "[chamber]") {
  const ChamberSpec spec;
  const FaecesSample sample = sample_of(400, 150, 200);
  const ChamberView view = chamber_view(spec, sample, 3, 1);
  CHECK(same(view, chamber_view(spec, sample, 3, 1)));
  CHECK_FALSE(same(view, chamber_view(spec, sample, 4, 1)));
  CHECK_FALSE(same(view, chamber_view(spec, sample, 3, 2)));
  FaecesSample renamed = sample;
  renamed.name = "B";
  CHECK_FALSE(same(view, chamber_view(spec, renamed, 3, 1)));
}

TEST_CASE("More of one kind leaves the others where they were", "[chamber]") {
  const ChamberSpec spec;
  const ChamberView few = chamber_view(spec, sample_of(100, 150, 200), 3, 1);
  const ChamberView many = chamber_view(spec, sample_of(5'000, 150, 200), 3, 1);
  for (const ParticleKind kind : particle_kinds) {
    const bool alike =
        std::ranges::equal(of_kind(few, kind), of_kind(many, kind),
                           [](const Particle& a, const Particle& b) { return same(a, b); });
    INFO(to_string(kind));
    CHECK(alike == (kind != ParticleKind::strongyle_type));
  }
}

TEST_CASE("A sample without eggs shows none", "[chamber]") {
  const ChamberView view = chamber_view(ChamberSpec{}, sample_of(0), 1, 1);
  CHECK(counted_eggs(view).empty());
  CHECK_FALSE(view.particles.empty());
}

TEST_CASE("A chamber out of range is refused", "[chamber]") {
  const auto refused = [](const ChamberSpec& spec, double epg = 0, std::uint32_t chamber = 1) {
    CHECK_THROWS_AS(chamber_view(spec, sample_of(epg), 1, chamber), InputError);
  };
  ChamberSpec spec;
  refused(spec, 1e9);
  refused(spec, 0, 0);
  spec.lanes = 0;
  refused(spec);
  spec = {};
  spec.side_um = 100;
  refused(spec);
  spec = {};
  spec.bubbles = -1;
  refused(spec);
  spec = {};
  spec.faeces_g = 0;
  refused(spec);
}
