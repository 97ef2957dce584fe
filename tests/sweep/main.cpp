// Sweeps invented trials of every kind through all interval methods, and checks what must hold of
// each (docs/reliability.md).
#include "classical_checks.hpp"
#include "posterior_checks.hpp"
#include "swept_trial.hpp"
#include "tally.hpp"

#include "trial/counts_table.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <exception>
#include <iostream>
#include <optional>

namespace {

struct Sweep {
  std::uint64_t seed = 1;
  std::uint64_t trials = 1'000'000;
  std::uint64_t posteriors = 4'000;
  std::optional<std::uint64_t> trial;
};

using Checks = void (*)(Tally&, const SweptTrial&);

void check_guarded(Tally& tally, const SweptTrial& trial, Checks checks) {
  std::optional<std::string> thrown;
  try {
    checks(tally, trial);
  } catch (const std::exception& error) {
    thrown = error.what();
  }
  tally.check(trial, "no exception", !thrown, [&] { return *thrown; });
}

/// Whether the methods that take time may be asked for it.
bool is_small(const eggfall::Comparison& comparison) {
  constexpr std::size_t most = 200;
  return std::ranges::all_of(comparison.arms, [](const eggfall::Arm& arm) {
    return std::max(arm.above.size(), arm.below.size()) <= most;
  });
}

void sweep(Tally& tally, const Sweep& options, std::uint64_t number) {
  const SweptTrial trial = swept_trial(options.seed, number);
  if (!trial.comparison) {
    tally.note(trial, "no animal has the samples needed");
    return;
  }
  if (number < options.trials)
    check_guarded(tally, trial, check_classical);
  if (number < options.posteriors && is_small(*trial.comparison))
    check_guarded(tally, trial, check_posterior);
}

/// One trial, shown, with every check.
void replay(Tally& tally, Sweep options) {
  const SweptTrial trial = swept_trial(options.seed, *options.trial);
  std::cout << fmt::format("Trial {}, design {}; {}\n", trial.number, to_string(trial.design),
                           trial.oddities.empty()
                               ? "simulated"
                               : fmt::format("{}", fmt::join(trial.oddities, "; ")))
            << eggfall::counts_table({trial.trial});
  options.trials = options.posteriors = *options.trial + 1;
  sweep(tally, options, *options.trial);
}

} // namespace

int main(int count, char** arguments) {
  Sweep options;
  CLI::App app("Invented trials of every kind through all interval methods");
  app.add_option("--seed", options.seed, "Seed of all trials")->capture_default_str();
  app.add_option("--trials", options.trials, "Trials 0, 1, ... for the methods of closed form")
      ->capture_default_str();
  app.add_option("--posteriors", options.posteriors,
                 "Trials 0, 1, ... for the posteriors, the bootstraps and the whole analysis")
      ->capture_default_str();
  app.add_option("--trial", options.trial, "This trial alone, shown");
  CLI11_PARSE(app, count, arguments);

  Tally tally;
  if (options.trial)
    replay(tally, options);
  else
    for (std::uint64_t number = 0; number < std::max(options.trials, options.posteriors); ++number)
      sweep(tally, options, number);
  std::cout << tally.report("eggfall_sweep", options.seed)
            << fmt::format("{} breaches\n", tally.breaches());
  return tally.breaches() == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
