// Times of the main job. Run: build/release/tests/benchmark/eggfall_benchmark

#include "eggfall/analyse.hpp"
#include "eggfall/bootstrap.hpp"
#include "eggfall/read_trial.hpp"

#include "invented_trials.hpp"

#include <benchmark/benchmark.h>

namespace {

constexpr std::size_t animals = 15;

eggfall::RatioData fifteen_animals() {
  return {{{{0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1, 0, 0, 4, 1},
            {14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25, 5, 33, 12}}}};
}

/// 10,000 resamples of one group, with percentile and BCa limits.
void bootstrap_of_one_group(benchmark::State& state) {
  const eggfall::RatioData data = fifteen_animals();
  for (auto _ : state) {
    const auto sample = eggfall::bootstrap(data, {10'000, 1, 0});
    benchmark::DoNotOptimize(eggfall::percentile_limits(sample, 0.9));
    benchmark::DoNotOptimize(eggfall::bca_limits(sample, 0.9));
  }
}
BENCHMARK(bootstrap_of_one_group)->Unit(benchmark::kMillisecond);

void read_1000_trials(benchmark::State& state) {
  const std::string table = invented_trials(1'000, animals, 1);
  for (auto _ : state)
    benchmark::DoNotOptimize(eggfall::read_trials(table, "table", {}));
}
BENCHMARK(read_1000_trials)->Unit(benchmark::kMillisecond);

/// The whole main job but for writing, on one core.
void analyse_1000_trials(benchmark::State& state) {
  const auto table = eggfall::read_trials(invented_trials(1'000, animals, 1), "table", {});
  const eggfall::CutOffs cut_offs = eggfall::published_cut_offs();
  for (auto _ : state)
    for (const eggfall::Trial& trial : table.trials)
      benchmark::DoNotOptimize(eggfall::analyse(trial, cut_offs, {}));
}
BENCHMARK(analyse_1000_trials)->Unit(benchmark::kMillisecond);

} // namespace
