// What a simulated trial of the built-in grids costs. Time a trial x farms x trials / cores is
// the time of an audit.

#include "simulation/audit_grid.hpp"

#include <benchmark/benchmark.h>

#include <string>

namespace {

using namespace eggfall;

void audit_grid(benchmark::State& state, std::size_t grid, std::vector<Method> methods) {
  const auto farms = read_audit_grid(built_in_grids()[grid].toml, "built in");
  AuditSettings settings;
  settings.methods = std::move(methods);
  Group sheep;
  sheep.host = "sheep";
  settings.criteria = audit_criteria(published_cut_offs().criteria, sheep);
  std::size_t trial = 0;
  for (auto _ : state) { // one trial of every farm
    for (const AuditFarm& farm : farms)
      benchmark::DoNotOptimize(audit_trials(farm, settings, trial, 1));
    ++trial;
  }
  state.counters["time_a_trial"] = benchmark::Counter(
      static_cast<double>(farms.size()),
      benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void calibration_posterior_alone(benchmark::State& state) {
  audit_grid(state, 0,
             {Method::paired_posterior, Method::two_group_posterior, Method::controlled_posterior});
}
BENCHMARK(calibration_posterior_alone)->Unit(benchmark::kMillisecond);

void calibration_every_method(benchmark::State& state) {
  audit_grid(state, 0, {});
}
BENCHMARK(calibration_every_method)->Unit(benchmark::kMillisecond);

void stress_every_method(benchmark::State& state) {
  audit_grid(state, 1, {});
}
BENCHMARK(stress_every_method)->Unit(benchmark::kMillisecond);

} // namespace
