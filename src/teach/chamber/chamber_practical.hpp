#pragma once

#include "teach/chamber/counting_chamber.hpp"

#include <cstdint>
#include <vector>

namespace eggfall {

/// A sample and what is seen of it.
struct PracticalSample {
  FaecesSample sample;
  std::vector<ChamberView> chambers;
};

/// Chambers to be counted by students: samples of invented faeces with known egg counts.
struct ChamberPractical {
  ChamberSpec spec;
  std::uint64_t seed = 1;
  int chambers_a_sample = 2;
  std::vector<PracticalSample> samples;
};

/// Two samples with two chambers each, of 4 g in 16 mL, so that an egg stands for 50 EPG: A with
/// 400 EPG of strongyle type, 150 Nematodirus-like and 200 Strongyloides-like; B with 100, 50
/// and 0. The chamber is an invented one, smaller and deeper than those of the trade, so that all
/// its lanes can be drawn at chamber_scale on two sheets of paper.
ChamberPractical chamber_practical(std::uint64_t seed);

/// EPG that one egg of all chambers of a sample stands for.
MultiplicationFactor multiplication_factor(const ChamberPractical& practical);

/// One kind in one sample: what was seen, and the truth that it came from.
struct KindCount {
  EggsSeen eggs;       ///< Counted in all chambers of the sample.
  Epg epg;             ///< eggs x factor.
  Epg truth;           ///< Of the faeces.
  double expected = 0; ///< Eggs, the truth / factor.
  double luck = 0;     ///< Standard deviation of the eggs by luck alone, sqrt(expected): Poisson.
};

KindCount kind_count(const ChamberPractical& practical, const PracticalSample& sample,
                     ParticleKind kind);

/// The chance that no egg is seen in any chamber of a sample with so many: exp(-EPG / factor).
double chance_of_none(const ChamberPractical& practical, Epg epg);

} // namespace eggfall
