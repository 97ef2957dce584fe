#include "teach/chamber/chamber_practical.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace eggfall {
namespace {

Epg true_epg(const FaecesSample& sample, ParticleKind kind) {
  const auto found = std::ranges::find(egg_kinds, kind);
  return sample.epg.at(static_cast<std::size_t>(found - egg_kinds.begin()));
}

} // namespace

ChamberPractical chamber_practical(std::uint64_t seed) {
  ChamberPractical practical;
  practical.seed = seed;
  practical.spec.side_um = 4'000;
  practical.spec.depth_um = 2'500;
  practical.spec.margin_um = 100; // half of the longest egg
  practical.spec.faeces_g = 4;
  practical.spec.fluid_ml = 12;
  for (FaecesSample sample : {FaecesSample{"A", {Epg(400), Epg(150), Epg(200)}},
                              FaecesSample{"B", {Epg(100), Epg(50), Epg(0)}}}) {
    PracticalSample& added = practical.samples.emplace_back(PracticalSample{std::move(sample), {}});
    for (int chamber = 1; chamber <= practical.chambers_a_sample; ++chamber)
      added.chambers.push_back(
          chamber_view(practical.spec, added.sample, seed, static_cast<std::uint32_t>(chamber)));
  }
  return practical;
}

MultiplicationFactor multiplication_factor(const ChamberPractical& practical) {
  return multiplication_factor(bench_figures(practical.spec, practical.chambers_a_sample));
}

KindCount kind_count(const ChamberPractical& practical, const PracticalSample& sample,
                     ParticleKind kind) {
  std::uint32_t seen = 0;
  for (const ChamberView& view : sample.chambers)
    seen += eggs_counted(view, kind).value();
  const EggsSeen eggs(seen);
  const Epg truth = true_epg(sample.sample, kind);
  const double expected = expected_eggs(practical.spec, truth, practical.chambers_a_sample);
  return {eggs, eggs * multiplication_factor(practical), truth, expected, std::sqrt(expected)};
}

double chance_of_none(const ChamberPractical& practical, Epg epg) {
  return std::exp(-expected_eggs(practical.spec, epg, practical.chambers_a_sample));
}

} // namespace eggfall
