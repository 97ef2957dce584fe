#include "support/invented_trials.hpp"

#include "eggfall/base/random_stream.hpp"

#include <fmt/format.h>

#include <random>

std::string invented_trials(std::size_t trials, std::size_t animals, std::uint64_t seed) {
  std::string table = "trial,group,host,animal,eggs_before,eggs_after,factor_before,factor_after\n";
  for (std::size_t trial = 0; trial < trials; ++trial) {
    eggfall::RandomStream stream({seed, 0, static_cast<std::uint32_t>(trial)});
    std::uniform_real_distribution<double> uniform(0, 1);
    const double k = 0.5 + uniform(stream);
    const double mean = 3 + 30 * uniform(stream);
    const double left = 0.4 * uniform(stream) * uniform(stream);
    std::gamma_distribution<double> level(k, mean / k);
    for (std::size_t animal = 0; animal < animals; ++animal) {
      const double own = level(stream) + 1e-9;
      table += fmt::format("trial {},drench,sheep,{},{},{},15,15\n", trial + 1, animal + 1,
                           std::poisson_distribution<int>(own)(stream),
                           std::poisson_distribution<int>(own * left + 1e-12)(stream));
    }
  }
  return table;
}
