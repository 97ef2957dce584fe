// What the machine itself allows, beside what eggfall makes of it: the floors that
// against_peers.sh compares with.

#include "eggfall/base/random_stream.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/statistics/paired_posterior.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "statistics/bootstrap.hpp"
#include "statistics/log_ratio_interval.hpp"

#include <Eigen/Core>
#include <benchmark/benchmark.h>

#include <cstdint>
#include <cstring>
#include <vector>

namespace {

using namespace eggfall;

constexpr std::uint32_t animals = 12;

/// One cumulant function of twelve animals: what a bootstrap without resampling cannot do without,
/// some 25 times over a handful of steps each.
void floor_exponentials(benchmark::State& state) {
  const Eigen::ArrayXd x = Eigen::ArrayXd::LinSpaced(animals, -1, 1);
  for (auto _ : state)
    benchmark::DoNotOptimize(x.exp().sum());
}
BENCHMARK(floor_exponentials)->Unit(benchmark::kMicrosecond);

/// Copying memory far larger than the caches: bytes read and written a second.
void floor_memory(benchmark::State& state) {
  const std::vector<std::uint64_t> from(std::size_t{1} << 24U, 1);
  std::vector<std::uint64_t> to(from.size());
  for (auto _ : state) {
    std::memcpy(to.data(), from.data(), from.size() * sizeof(from[0]));
    benchmark::ClobberMemory();
  }
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations()) * 2 *
                          static_cast<std::int64_t>(from.size() * sizeof(from[0])));
}
BENCHMARK(floor_memory)->Unit(benchmark::kMillisecond);

void time_product(benchmark::State& state, Eigen::Index rows, Eigen::Index inner,
                  Eigen::Index columns) {
  const Eigen::MatrixXd a = Eigen::MatrixXd::Random(rows, inner);
  const Eigen::MatrixXd b = Eigen::MatrixXd::Random(inner, columns);
  Eigen::MatrixXd product(rows, columns);
  for (auto _ : state) {
    product.noalias() = a * b;
    benchmark::DoNotOptimize(product.data());
  }
  state.counters["flops"] = benchmark::Counter(static_cast<double>(2 * rows * inner * columns),
                                               benchmark::Counter::kIsIterationInvariantRate);
}

/// Matrices that stay in the caches: what the compiled instruction set multiplies and adds a second
/// at best.
void floor_multiply_add(benchmark::State& state) {
  time_product(state, 256, 256, 256);
}
BENCHMARK(floor_multiply_add)->Unit(benchmark::kMillisecond);

/// As large a product as the posterior of two groups usually takes, and nothing else: grids of 512
/// and 256 points, 31 nodes.
void floor_posterior_product(benchmark::State& state) {
  time_product(state, 512, 31, 256);
}
BENCHMARK(floor_posterior_product)->Unit(benchmark::kMillisecond);

/// The multiplications of the posterior of 15 pairs, had they all the shape of one product: 65
/// points of eta for each pair, 21 values of tau, and inner sums of 37 terms, as counted in pairs
/// of about 20 eggs before and 1 after.
void floor_paired_sums(benchmark::State& state) {
  time_product(state, 15 * 65, 37, 21);
}
BENCHMARK(floor_paired_sums)->Unit(benchmark::kMillisecond);

std::vector<Count> counts(const std::vector<std::uint32_t>& eggs) {
  std::vector<Count> result;
  for (const std::uint32_t n : eggs)
    result.push_back({EggsSeen(n), MultiplicationFactor(15)});
  return result;
}

const std::vector<std::uint32_t> before{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25};
const std::vector<std::uint32_t> after{0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1};
const std::vector<std::uint32_t> control{12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28};

std::vector<double> real(const std::vector<std::uint32_t>& eggs) {
  return {eggs.begin(), eggs.end()};
}

/// The BCa limits of what peers.R gives to R's boot.
void bca_of_trial_a(benchmark::State& state) {
  const RatioData data{{{real(after), real(before)}}};
  for (auto _ : state)
    benchmark::DoNotOptimize(Bootstrap(data).bca_limits(0.9));
}
BENCHMARK(bca_of_trial_a)->Unit(benchmark::kMicrosecond);

/// Limits of 1992, as peers.R works them out in R.
void log_ratio_of_trial_a(benchmark::State& state) {
  const RatioData data{{{real(after), {}}, {{}, real(control)}}};
  for (auto _ : state)
    benchmark::DoNotOptimize(log_ratio_limits(data, 0.95));
}
BENCHMARK(log_ratio_of_trial_a)->Unit(benchmark::kMicrosecond);

void posterior_of_two_groups(benchmark::State& state) {
  Comparison comparison;
  comparison.design = Design::two_group;
  comparison.arms = {{counts(after), {}}, {{}, counts(control)}};
  for (auto _ : state)
    benchmark::DoNotOptimize(posterior(comparison, {})->limits(0.9));
}
BENCHMARK(posterior_of_two_groups)->Unit(benchmark::kMillisecond);

/// No two pairs alike, so that none is worked out with another: 20 eggs before on average, and one
/// in twenty left.
void posterior_of_15_pairs(benchmark::State& state) {
  const Arm arm{counts({0, 1, 0, 4, 0, 2, 0, 1, 1, 0, 0, 3, 0, 0, 2}),
                counts({14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25, 5, 73, 33})};
  for (auto _ : state)
    benchmark::DoNotOptimize(paired_posterior(arm, {}).limits(0.9));
}
BENCHMARK(posterior_of_15_pairs)->Unit(benchmark::kMillisecond);

/// One trial of 15 animals, as peers.py simulates them with numpy.
void simulated_trial(benchmark::State& state) {
  CountModel model;
  std::uint32_t number = 0;
  for (auto _ : state)
    benchmark::DoNotOptimize(simulate(model, {1, 0, number++}));
}
BENCHMARK(simulated_trial)->Unit(benchmark::kMicrosecond);

} // namespace
