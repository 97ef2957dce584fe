// Times of the main job. Run: build/release/tests/benchmark/eggfall_benchmark

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/statistics/paired_posterior.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "statistics/bootstrap.hpp"
#include "statistics/count_luck.hpp"

#include "support/invented_trials.hpp"

#include <benchmark/benchmark.h>

namespace {

constexpr std::size_t animals = 15;

eggfall::RatioData fifteen_animals() {
  return {{{{0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1, 0, 0, 4, 1},
            {14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25, 5, 33, 12}}}};
}

eggfall::Arm paired_arm(const eggfall::RatioSample& sample) {
  eggfall::Arm arm;
  const eggfall::MultiplicationFactor factor(15);
  for (std::size_t i = 0; i < sample.animals(); ++i) {
    arm.above.push_back({eggfall::EggsSeen(static_cast<std::uint32_t>(sample.above[i])), factor});
    arm.below.push_back({eggfall::EggsSeen(static_cast<std::uint32_t>(sample.below[i])), factor});
  }
  return arm;
}

/// What the bootstrap and the luck of counting add to a posterior: the guarded limits of one group.
void guard_of_15_animals(benchmark::State& state) {
  const eggfall::Comparison comparison{
      eggfall::Design::paired, {paired_arm(fifteen_animals().samples.front())}, {}};
  for (auto _ : state) {
    const eggfall::RatioData data = eggfall::epg(comparison);
    const eggfall::AnimalsLaw by_animals(eggfall::Bootstrap(data), 10);
    const eggfall::CountLuck luck(comparison);
    for (const double p : {0.05, 0.95}) {
      benchmark::DoNotOptimize(by_animals.quantile(p));
      benchmark::DoNotOptimize(luck.quantile(p));
    }
  }
}
BENCHMARK(guard_of_15_animals)->Unit(benchmark::kMicrosecond);

/// A posterior with its 90% limits; and, as a counter, the returned error of the worse limit in
/// percentage points.
void time_posterior(benchmark::State& state, const eggfall::RatioSample& sample) {
  const eggfall::Arm arm = paired_arm(sample);
  double error = 0;
  for (auto _ : state)
    error = *eggfall::paired_posterior(arm, {}).limits(0.9).error;
  state.counters["error_points"] = 100 * error;
}

void posterior_of_15_animals(benchmark::State& state) {
  time_posterior(state, fifteen_animals().samples.front());
}
BENCHMARK(posterior_of_15_animals)->Unit(benchmark::kMillisecond);

/// The group that against_jags.sh gives to JAGS as well.
void posterior_of_trial_a(benchmark::State& state) {
  time_posterior(
      state, {{0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1}, {14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25}});
}
BENCHMARK(posterior_of_trial_a)->Unit(benchmark::kMillisecond);

void read_1000_trials(benchmark::State& state) {
  const std::string table = invented_trials(1'000, animals, 1);
  for (auto _ : state)
    benchmark::DoNotOptimize(eggfall::read_trials(table, "table", {}));
}
BENCHMARK(read_1000_trials)->Unit(benchmark::kMillisecond);

/// The main job but for writing and for the simulations of next steps, on one core.
void analyse_1000_trials(benchmark::State& state) {
  const auto table = eggfall::read_trials(invented_trials(1'000, animals, 1), "table", {});
  const eggfall::CutOffs cut_offs = eggfall::published_cut_offs();
  eggfall::AnalysisSettings settings;
  settings.simulations = 0; // as the program does for more than 20 trials
  for (auto _ : state)
    for (const eggfall::Trial& trial : table.trials)
      benchmark::DoNotOptimize(eggfall::analyse(trial, cut_offs, settings));
}
BENCHMARK(analyse_1000_trials)->Unit(benchmark::kMillisecond);

} // namespace
