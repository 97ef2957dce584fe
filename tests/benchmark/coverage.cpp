// How often 90% intervals hold the truth, on simulated paired trials: with one efficacy for all
// animals, as the posterior's model has it, and with efficacies that differ between animals.
// Run: build/release/tests/benchmark/eggfall_coverage [TRIALS]

#include "eggfall/evidence.hpp"
#include "eggfall/random_stream.hpp"

#include <boost/random/gamma_distribution.hpp>
#include <boost/random/poisson_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <fmt/format.h>

#include <cstdlib>
#include <iostream>
#include <vector>

namespace {

using eggfall::Method;
using eggfall::RandomStream;

enum class Spread { none, gamma, undosed };

struct Cell {
  Spread spread;
  std::size_t animals;
  double mean_eggs;
  double k;
  double tau;
  double efficacy;
};

double gamma_draw(double shape, RandomStream& stream) {
  return boost::random::gamma_distribution<double>(shape, 1.0 / shape)(stream);
}

eggfall::Count count(double mean, RandomStream& stream) {
  const int eggs = mean > 0 ? boost::random::poisson_distribution<int, double>(mean)(stream) : 0;
  return {eggfall::EggsSeen(static_cast<std::uint32_t>(eggs)), eggfall::MultiplicationFactor(15)};
}

/// This animal's own ratio; its mean over animals is 1 - efficacy.
double own_ratio(const Cell& cell, RandomStream& stream) {
  const double left = 1 - cell.efficacy;
  switch (cell.spread) {
  case Spread::none:
    return left;
  case Spread::gamma: // a coefficient of variation of 1
    return left * gamma_draw(1, stream);
  case Spread::undosed: // a share untouched, the rest cured
    return boost::random::uniform_01<double>()(stream) < left ? 1 : 0;
  }
  return left;
}

eggfall::Comparison trial(const Cell& cell, RandomStream& stream) {
  eggfall::Arm arm;
  const double kappa = cell.tau > 0 ? 1 / (cell.tau * cell.tau) : 0;
  const auto luck = [&] { return cell.tau > 0 ? gamma_draw(kappa, stream) : 1.0; };
  for (std::size_t i = 0; i < cell.animals; ++i) {
    const double level = cell.mean_eggs * gamma_draw(cell.k, stream);
    const double before = level * luck();
    const double after = level * luck() * own_ratio(cell, stream);
    arm.below.push_back(count(before, stream));
    arm.above.push_back(count(after, stream));
  }
  return {eggfall::Design::paired, {arm}, {}};
}

void report(const Cell& cell, std::size_t trials, std::uint64_t number) {
  constexpr Method methods[] = {Method::guarded_posterior, Method::paired_posterior,
                                Method::bootstrap_bca, Method::paired_log_ratio};
  std::vector<std::size_t> held(std::size(methods), 0);
  std::size_t used = 0;
  for (std::size_t t = 0; t < trials; ++t) {
    RandomStream stream({1, number, static_cast<std::uint32_t>(t)});
    const eggfall::Evidence evidence(trial(cell, stream), {1'000, 1, number}, {});
    if (!evidence.reduction())
      continue; // no egg before treatment
    ++used;
    for (std::size_t m = 0; m < std::size(methods); ++m) {
      const auto interval = evidence.interval(methods[m], 0.9);
      held[m] +=
          interval.usable() && *interval.lower <= cell.efficacy && cell.efficacy <= *interval.upper
              ? 1
              : 0;
    }
  }
  constexpr std::string_view names[] = {"one for all", "gamma, CV 1", "some undosed"};
  std::cout << fmt::format("{:<13}{:>4}{:>6.0f}{:>5.1f}{:>5.1f}{:>7.0f}%  ",
                           names[static_cast<std::size_t>(cell.spread)], cell.animals,
                           cell.mean_eggs, cell.k, cell.tau, 100 * cell.efficacy);
  for (const std::size_t count_held : held)
    std::cout << fmt::format("{:>9.0f}%",
                             100.0 * static_cast<double>(count_held) / static_cast<double>(used));
  std::cout << '\n';
}

} // namespace

int main(int argc, char** argv) {
  const std::size_t trials = argc > 1 ? std::strtoul(argv[1], nullptr, 10) : 300;
  std::cout << "Share of 90% intervals that hold the truth; an interval that does not exist does "
               "not.\nefficacy       n  eggs    k  tau   truth    guarded posterior   "
               "bootstrap log ratio\n";
  std::uint64_t number = 0;
  for (const Spread spread : {Spread::none, Spread::gamma, Spread::undosed})
    for (const std::size_t animals : {7UL, 15UL, 40UL})
      for (const double eggs : {3.0, 20.0})
        for (const double efficacy : {0.80, 0.95, 0.99})
          report({spread, animals, eggs, 0.7, 0.5, efficacy}, trials, ++number);
}
