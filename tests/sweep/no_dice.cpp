// No verdict hangs on a name, a seed or the order of rows, and no chance contradicts its verdict:
// of invented trials of every kind (docs/reliability.md says how many were tried).
#include "contradicts.hpp"
#include "eggfall/base/random_stream.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "judgement/judge.hpp"

#include <CLI/CLI.hpp>
#include <boost/random/uniform_01.hpp>
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdint>
#include <iostream>
#include <string>

namespace {

using namespace eggfall;

/// Animals, eggs, spread, efficacy, control and factors of every kind, by the trial's number alone.
Trial invented(std::uint32_t number) {
  RandomStream stream({7, stream_group("no dice", "models"), number});
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * boost::random::uniform_01<double>()(stream);
  };
  CountModel model;
  model.animals = 2 + stream.below(29);
  model.control_animals = number % 2 == 0 ? 0 : 2 + stream.below(14);
  model.mean_eggs = std::exp(uniform(0, 4));
  model.k = std::exp(uniform(-1.5, 1.1));
  model.within_cv = uniform(0, 1);
  model.efficacy = 1 - std::exp(uniform(-7, 0));
  model.efficacy_cv = number % 3 == 0 ? uniform(0, 2) : 0;
  model.season_change = std::exp(uniform(-1.2, 1.2));
  Trial trial = simulate(model, {7, stream_group("no dice", "trials"), number}).trial;
  for (Group& group : trial.groups)
    group.host = "sheep";
  return trial;
}

TrialAnalysis analysed(const Trial& trial, std::uint64_t seed) {
  static const CutOffs cut_offs = published_cut_offs();
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.seed = seed;
  return analyse(trial, cut_offs, settings);
}

/// All that is said of the counts, but for the names.
std::string said(const TrialAnalysis& analysis) {
  const Judgement& judgement = analysis.groups.front().judgement;
  std::string text;
  const auto add = [&](const Interval& interval) {
    text += interval.usable() ? fmt::format("{} {};", *interval.lower, *interval.upper)
                              : interval.why_not;
  };
  for (const Interval& interval : analysis.groups.front().evidence.intervals)
    add(interval);
  for (const Verdict& verdict : judgement.verdicts)
    text += to_string(verdict.verdict_class);
  text += to_string(judgement.standing.verdict_class);
  if (judgement.probabilities)
    text += fmt::format("{} {}", judgement.probabilities->below_lower,
                        judgement.probabilities->below_expected);
  return text;
}

Trial under_another_name(Trial trial) {
  trial.name = "another";
  for (Group& group : trial.groups) {
    group.name += " under another name";
    std::ranges::reverse(group.animals);
  }
  return trial;
}

/// Whether the chances agree with the verdict that they belong to, and how far the law itself is
/// from doing so where it does not.
bool contradicted(const TrialAnalysis& analysis) {
  const Judgement& judgement = analysis.groups.front().judgement;
  const Verdict& verdict =
      judgement.own_fall ? judgement.own_fall->verdict : judgement.first_verdict();
  return judgement.probabilities && contradicts(verdict, *judgement.probabilities);
}

/// How far a chance read from the law alone would contradict the limits of the same law.
double dip(const TrialAnalysis& analysis) {
  const Verdict& verdict = analysis.groups.front().judgement.first_verdict();
  const auto& law = analysis.groups.front().evidence.law;
  if (!law || !verdict.interval || !verdict.interval->usable() ||
      verdict.interval->method != Method::guarded_posterior)
    return 0;
  const double tail = (1 - verdict.interval->level) / 2;
  double most = 0;
  if (*verdict.interval->lower >= *verdict.lower)
    most = std::max(most, law->probability_efficacy_below(*verdict.lower) - tail);
  if (*verdict.interval->upper < *verdict.expected)
    most = std::max(most, 1 - tail - law->probability_efficacy_below(*verdict.expected));
  return most;
}

} // namespace

int main(int argc, char** argv) {
  std::uint32_t trials = 100'000;
  CLI::App app("No verdict hangs on a name, and no chance contradicts its verdict");
  app.add_option("--trials", trials, "Invented trials")->capture_default_str();
  CLI11_PARSE(app, argc, argv);
  std::atomic<std::uint32_t> names = 0;
  std::atomic<std::uint32_t> contradictions = 0;
  std::atomic<std::uint32_t> dips = 0;
  std::atomic<double> deepest = 0;
  tbb::parallel_for(std::uint32_t{0}, trials, [&](std::uint32_t number) {
    const Trial trial = invented(number);
    const TrialAnalysis first = analysed(trial, 1);
    names += said(first) == said(analysed(under_another_name(trial), 2)) ? 0 : 1;
    contradictions += contradicted(first) ? 1 : 0;
    const double depth = dip(first);
    dips += depth > 1e-6 ? 1 : 0;
    for (double known = deepest; known < depth && !deepest.compare_exchange_weak(known, depth);)
      continue;
  });
  std::cout << fmt::format("{} trials: {} say something else under another name, seed and order of "
                           "rows; {} chances contradict their verdict ({} would if the smooth law "
                           "of lumpy resamples were not held up by its own limits, by {:.3f} at "
                           "most)\n",
                           trials, names.load(), contradictions.load(), dips.load(),
                           deepest.load());
  return names + contradictions == 0 ? 0 : 1;
}
