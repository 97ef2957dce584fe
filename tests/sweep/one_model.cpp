// Would one model do better than the guard (docs/audit.md)? Coverage, misses on either side, width
// and time of the guarded posterior beside single Bayesian models in which efficacy varies between
// animals.
#include "spread_levels.hpp"
#include "varying_efficacy.hpp"

#include "eggfall/simulation/count_model.hpp"
#include "eggfall/statistics/evidence.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <ctime>
#include <functional>
#include <iostream>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace {

using namespace eggfall;

constexpr double level = 0.90;

struct Cell {
  std::string name;
  CountModel model;
};

std::vector<Cell> cells() {
  const auto cell = [](std::string name, std::size_t animals, double eggs, double k, double within,
                       double efficacy, double efficacy_cv, LevelShape shape = LevelShape::gamma) {
    CountModel model;
    model.animals = animals;
    model.mean_eggs = eggs;
    model.k = k;
    model.within_cv = within;
    model.efficacy = efficacy;
    model.efficacy_cv = efficacy_cv;
    model.shape = shape;
    return Cell{std::move(name), model};
  };
  return {cell("a: 15, 12, 0.7, 0.5, 95%, 0", 15, 12, 0.7, 0.5, 0.95, 0),
          cell("b: 7, 30, 0.5, 0.5, 88%, 0", 7, 30, 0.5, 0.5, 0.88, 0),
          cell("c: 25, 40, 0.6, 0.6, 95.5%, 0", 25, 40, 0.6, 0.6, 0.955, 0),
          cell("d: 15, 12, 0.7, 0.5, 95%, 1", 15, 12, 0.7, 0.5, 0.95, 1),
          cell("e: 15, 12, 0.7, 0.5, 90%, 1.5", 15, 12, 0.7, 0.5, 0.90, 1.5),
          cell("f: 15, 12, 0.7, 0.5, 90%, 2", 15, 12, 0.7, 0.5, 0.90, 2),
          cell("g: 40, 20, 0.5, 0.5, 95%, 0", 40, 20, 0.5, 0.5, 0.95, 0),
          cell("h: 11, 15, 1.5, 0.2, 97%, 0", 11, 15, 1.5, 0.2, 0.97, 0),
          cell("i: as a, log-normal levels", 15, 12, 0.7, 0.5, 0.95, 0, LevelShape::log_normal),
          cell("j: as g, log-normal levels", 40, 20, 0.5, 0.5, 0.95, 0, LevelShape::log_normal)};
}

struct Contender {
  std::string name;
  std::function<Interval(const Comparison&)> interval;
};

/// What became of one contender's intervals in one cell.
struct Score {
  std::uint64_t trials = 0;
  std::uint64_t held = 0;
  std::uint64_t too_low = 0;  ///< Below the truth.
  std::uint64_t too_high = 0; ///< Above it: these flatter the drench.
  std::uint64_t none = 0;
  std::vector<double> widths = {};
  double seconds = 0;
};

void add(Score& score, const Interval& interval, double truth) {
  ++score.trials;
  switch (outcome(interval, truth)) {
  case Outcome::held:
    ++score.held;
    break;
  case Outcome::truth_above:
    ++score.too_low;
    break;
  case Outcome::truth_below:
    ++score.too_high;
    break;
  case Outcome::unusable:
    ++score.none;
    return;
  }
  score.widths.push_back(*interval.upper - std::max(*interval.lower, -1.0));
}

Score scored(const Cell& cell, const Contender& contender, std::uint32_t trials,
             std::uint64_t seed) {
  Score score;
  for (std::uint32_t t = 0; t < trials; ++t) {
    const Trial trial = simulate(cell.model, {seed, stream_group("one model", cell.name), t}).trial;
    const auto comparison = compare(Design::paired, trial.groups.front(), nullptr);
    if (!comparison || totals_of(comparison->arms.front().below).eggs == 0)
      continue;                              // nothing to compare with
    const std::clock_t start = std::clock(); // of the processor: others may be at work here
    const Interval interval = contender.interval(*comparison);
    score.seconds += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    add(score, interval, true_efficacy(cell.model));
  }
  return score;
}

void print(const Cell& cell, const Contender& contender, Score score) {
  const auto of_100 = [&](std::uint64_t number) {
    return 100 * static_cast<double>(number) / static_cast<double>(score.trials);
  };
  double median = 0;
  if (!score.widths.empty()) {
    const auto middle = score.widths.begin() + static_cast<std::ptrdiff_t>(score.widths.size() / 2);
    std::ranges::nth_element(score.widths, middle);
    median = *middle;
  }
  std::cout << fmt::format("| {} | {} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.2f} |\n", cell.name,
                           contender.name, of_100(score.held), of_100(score.too_low),
                           of_100(score.too_high), 100 * median,
                           1e3 * score.seconds / static_cast<double>(score.trials))
            << std::flush;
}

/// A method of today at a level.
Contender evidence(std::string name, Method method, double at_level) {
  return {std::move(name), [=](const Comparison& comparison) {
            return Evidence(comparison, PosteriorPriors()).interval(method, at_level);
          }};
}

/// Whether the model is the paired posterior where efficacy does not vary: their limits differ by
/// less than a hundredth of the interval's width.
bool holds_the_paired_posterior(std::uint64_t seed) {
  constexpr double hardly = 1e-3;
  constexpr double largest_error = 0.01;
  constexpr std::uint32_t trials = 20;
  const VariationPrior prior = PosteriorPriors().within_animals;
  VaryingEfficacy model({prior, hardly});
  double worst = 0;
  for (const Cell& cell : cells())
    for (std::uint32_t t = 0; t < trials; ++t) {
      const Trial trial = simulate(cell.model, {seed, stream_group("check", cell.name), t}).trial;
      const auto comparison = compare(Design::paired, trial.groups.front(), nullptr);
      if (!comparison || totals_of(comparison->arms.front().below).eggs == 0)
        continue;
      const Arm& arm = comparison->arms.front();
      const RatioLimits expected = paired_posterior(arm, prior).limits(level);
      const RatioLimits found = model.posterior(arm).limits(level);
      const double width = expected.upper - expected.lower;
      worst = std::max({worst, std::abs(found.lower - expected.lower) / width,
                        std::abs(found.upper - expected.upper) / width});
    }
  std::cout << fmt::format("largest difference: {:.4f} of the interval's width\n", worst);
  return worst < largest_error;
}

/// The limits of a model's posterior.
template <typename Model> Contender of_model(std::string name, Model model) {
  return {std::move(name),
          [kept = std::make_shared<Model>(std::move(model))](const Comparison& comparison) {
            return reduction_interval(Method::paired_posterior, level,
                                      kept->posterior(comparison.arms.front()).limits(level));
          }};
}

} // namespace

int main(int argc, char** argv) {
  std::uint32_t trials = 1'000;
  std::uint64_t seed = 1;
  std::string only;
  std::vector<double> normal_scales{0.6, 0.8, 1, 1.5, 2};
  std::vector<double> cauchy_scales{0.1, 0.2};
  bool levels = false;
  bool check = false;
  double guard_level = 0.93;
  CLI::App app("One model with an efficacy that varies between animals, beside the guard");
  app.add_option("--trials", trials, "Of each setting")->capture_default_str();
  app.add_option("--seed", seed)->capture_default_str();
  app.add_option("--cells", only, "Only those whose letter is in this");
  app.add_option("--c-normal", normal_scales, "Scales of half-normal priors of c")
      ->capture_default_str();
  app.add_option("--c-cauchy", cauchy_scales, "Scales of half-Cauchy priors of c")
      ->capture_default_str();
  app.add_flag("--levels", levels, "Also with gamma levels, which takes long");
  app.add_option("--guard-level", guard_level, "Of one more guarded interval; 0: none")
      ->capture_default_str();
  app.add_flag("--check", check, "Only see whether the model holds the paired posterior");
  CLI11_PARSE(app, argc, argv);
  if (check)
    return holds_the_paired_posterior(seed) ? 0 : 1;

  std::vector<Contender> contenders{evidence("guarded posterior", Method::guarded_posterior, level),
                                    evidence("posterior alone", Method::paired_posterior, level)};
  if (guard_level > 0)
    contenders.push_back(evidence(fmt::format("guarded posterior at {:g}%", 100 * guard_level),
                                  Method::guarded_posterior, guard_level));
  const auto with = [](double scale, EfficacyTail tail) {
    return VaryingPriors{PosteriorPriors().within_animals, scale, tail};
  };
  const auto add_models = [&](std::string_view name, const std::vector<double>& scales,
                              EfficacyTail tail) {
    for (const double c : scales)
      contenders.push_back(
          of_model(fmt::format("one model, {} {:g}", name, c), VaryingEfficacy(with(c, tail))));
    if (levels)
      for (const double c : scales)
        contenders.push_back(of_model(fmt::format("gamma levels, {} {:g}", name, c),
                                      SpreadLevels(with(c, tail), PosteriorPriors().mean)));
  };
  add_models("c normal", normal_scales, EfficacyTail::half_normal);
  add_models("c Cauchy", cauchy_scales, EfficacyTail::half_cauchy);
  std::cout
      << "| animals, eggs, k, within, efficacy, its CV | interval | held the truth | too low | "
         "too high | median width | ms |\n|---|---|---|---|---|---|---|\n";
  for (const Cell& cell : cells())
    if (only.empty() || only.find(cell.name.front()) != std::string::npos)
      for (const Contender& contender : contenders)
        print(cell, contender, scored(cell, contender, trials, seed));
  return 0;
}
