#include "teach/chamber/chamber_lesson.hpp"

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

ChamberLesson chamber_lesson(std::uint64_t seed) {
  ChamberLesson lesson;
  lesson.seed = seed;
  lesson.spec.side_um = 4'000;
  lesson.spec.depth_um = 2'500;
  lesson.spec.margin_um = 100; // half of the longest egg
  lesson.spec.faeces_g = 4;
  lesson.spec.fluid_ml = 12;
  for (FaecesSample sample : {FaecesSample{"A", {Epg(400), Epg(150), Epg(200)}},
                              FaecesSample{"B", {Epg(100), Epg(50), Epg(0)}}}) {
    LessonSample& added = lesson.samples.emplace_back(LessonSample{std::move(sample), {}});
    for (int chamber = 1; chamber <= lesson.chambers_a_sample; ++chamber)
      added.chambers.push_back(
          chamber_view(lesson.spec, added.sample, seed, static_cast<std::uint32_t>(chamber)));
  }
  return lesson;
}

MultiplicationFactor multiplication_factor(const ChamberLesson& lesson) {
  return multiplication_factor(bench_figures(lesson.spec, lesson.chambers_a_sample));
}

KindCount kind_count(const ChamberLesson& lesson, const LessonSample& sample, ParticleKind kind) {
  std::uint32_t seen = 0;
  for (const ChamberView& view : sample.chambers)
    seen += eggs_counted(view, kind).value();
  const EggsSeen eggs(seen);
  const Epg truth = true_epg(sample.sample, kind);
  const double expected = expected_eggs(lesson.spec, truth, lesson.chambers_a_sample);
  return {eggs, eggs * multiplication_factor(lesson), truth, expected, std::sqrt(expected)};
}

double chance_of_none(const ChamberLesson& lesson, Epg epg) {
  return std::exp(-expected_eggs(lesson.spec, epg, lesson.chambers_a_sample));
}

} // namespace eggfall
