// Takes invented trials with all that a table may say through the understanding of a table as
// people keep it, the analysis and the standing, and checks what must hold (docs/reliability.md).
#include "field_trial.hpp"
#include "judgement_checks.hpp"
#include "quick_analysis.hpp"
#include "reading_checks.hpp"
#include "tally.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "trial/counts_table.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <exception>
#include <future>
#include <iostream>
#include <optional>
#include <string>

namespace {

using namespace eggfall;

struct Sweep {
  std::uint64_t seed = 1;
  std::uint64_t first = 0;
  std::uint64_t trials = 1'000'000;
  std::uint64_t analyses = 2'000;
  std::optional<std::uint64_t> trial;
};

const CutOffs& cut_offs() {
  static const CutOffs published = published_cut_offs();
  return published;
}

/// An exception of any kind is a breach: what may be refused is caught where it may be.
template <typename Checks>
void check_guarded(Tally& tally, const SweptTrial& swept, std::string_view stage, Checks&& checks) {
  std::optional<std::string> thrown;
  try {
    checks();
  } catch (const std::exception& error) {
    thrown = error.what();
  }
  tally.check(swept, fmt::format("{}: no exception", stage), !thrown, [&] { return *thrown; });
}

/// Others take seconds, and show no more.
bool is_small(const Trial& trial) {
  constexpr std::size_t most_animals = 60;
  return std::ranges::all_of(
      trial.groups, [](const Group& group) { return group.animals.size() <= most_animals; });
}

void check_quickly(Tally& tally, const SweptTrial& swept, const Trial& trial) {
  const TrialAnalysis analysis = quick_analysis(trial, cut_offs());
  check_judgement(tally, swept, analysis);
  const TrialAnalysis renamed = quick_analysis(under_other_names(trial), cut_offs());
  tally.check(swept, "quick: the same for other names and another order of rows",
              said(analysis) == said(renamed),
              [&] { return said(analysis) + "beside " + said(renamed); });
  for (const GroupAnalysis& group : analysis.groups) {
    const Standing& standing = group.judgement.standing;
    tally.note(swept, fmt::format("standing: {}", standing.bars.empty()
                                                      ? "no bar"
                                                      : to_string(standing.bars.front().code)));
  }
}

void check_wholly(Tally& tally, const SweptTrial& swept, const Trial& trial) {
  AnalysisSettings settings;
  settings.simulations = 0;
  // One thread beside the other.
  auto beside = std::async(std::launch::async, [&] {
    return analysis_json({analyse(trial, cut_offs(), settings)}, settings);
  });
  const TrialAnalysis analysis = analyse(trial, cut_offs(), settings);
  const std::string json = analysis_json({analysis}, settings);
  tally.check(swept, "whole: the same from two threads at once", beside.get() == json,
              [] { return std::string("another JSON"); });
  check_judgement(tally, swept, analysis);
  check_writers(tally, swept, analysis, settings);
  settings.seed = 2;
  const TrialAnalysis again = analyse(under_other_names(trial), cut_offs(), settings);
  tally.check(swept, "whole: the same for other names, order of rows and seed",
              said(analysis) == said(again),
              [&] { return said(analysis) + "beside " + said(again); });
  for (const GroupAnalysis& group : analysis.groups)
    tally.note(swept, fmt::format("whole: standing {}",
                                  to_string(group.judgement.standing.verdict_class)));
}

SweptTrial swept_of(const FieldTrial& field) {
  SweptTrial swept;
  swept.number = field.number;
  for (const Group& group : field.trial.groups)
    if (group.role == Role::treated) {
      swept.design = preferred_design(group, control_of(field.trial)).value_or(Design::paired);
      break;
    }
  return swept;
}

void sweep(Tally& tally, const Sweep& options, std::uint64_t number) {
  constexpr std::uint64_t untidy_every = 8;
  const FieldTrial field = field_trial(options.seed, number);
  const SweptTrial swept = swept_of(field);
  std::optional<Trial> read;
  check_guarded(tally, swept, "reading", [&] {
    read = check_reading(tally, swept, field, options.seed);
    if (number % untidy_every == 0)
      check_untidy_reading(tally, swept, options.seed);
  });
  if (!read)
    return;
  check_guarded(tally, swept, "larvae", [&] {
    if (const auto cultured = check_larvae(tally, swept, field, *read))
      read = *cultured;
  });
  check_guarded(tally, swept, "quick", [&] { check_quickly(tally, swept, *read); });
  if (number < options.first + options.analyses && is_small(*read))
    check_guarded(tally, swept, "whole", [&] { check_wholly(tally, swept, *read); });
}

/// One trial, shown, with every check.
void replay(Tally& tally, Sweep options) {
  const FieldTrial field = field_trial(options.seed, *options.trial);
  std::cout << fmt::format("Trial {}: {}\n{}{}kept as: {}\n", field.number,
                           fmt::join(field.traits, "; "), counts_table({field.trial}),
                           field.larvae.table, kept_text(field, options.seed));
  options.first = *options.trial;
  options.analyses = 1;
  sweep(tally, options, *options.trial);
}

} // namespace

int main(int count, char** arguments) {
  Sweep options;
  CLI::App app("Invented trials from a table as people keep it to the standing");
  app.add_option("--seed", options.seed, "Seed of all trials")->capture_default_str();
  app.add_option("--first", options.first, "Number of the first trial, for a sweep in pieces")
      ->capture_default_str();
  app.add_option("--trials", options.trials,
                 "Trials from the first on through the table, its understanding, and the standing "
                 "on quick evidence")
      ->capture_default_str();
  app.add_option("--analyses", options.analyses,
                 "Trials from the first on through the whole analysis and its writers too")
      ->capture_default_str();
  app.add_option("--trial", options.trial, "This trial alone, shown");
  CLI11_PARSE(app, count, arguments);

  const auto start = std::chrono::steady_clock::now();
  Tally tally;
  if (options.trial)
    replay(tally, options);
  else
    for (std::uint64_t i = 0; i < std::max(options.trials, options.analyses); ++i)
      sweep(tally, options, options.first + i);
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
  std::cout << tally.report("eggfall_farm_sweep", options.seed)
            << fmt::format("{} breaches; {:.0f} s\n", tally.breaches(), taken.count());
  return tally.breaches() == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
