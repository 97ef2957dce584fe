#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/posterior.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace eggfall {

/// A way to learn more from a trial that could not decide.
struct TrialExtension {
  double volume = 1;            ///< The same samples, counted on over this many times the volume.
  std::size_t more_animals = 0; ///< In each group of the comparison.
};

/// The extensions that are simulated if nobody asks for others: twice and four times the volume; 5,
/// 10 and 20 more animals.
std::vector<TrialExtension> usual_extensions();

/// How often an extension gave each class among simulated continuations of a trial.
struct LargerTrialOutcome {
  TrialExtension extension;
  std::size_t simulations = 0;
  double clear = 0; ///< Share of the simulations with a class other than inconclusive.
  double susceptible = 0;
  double low_resistant = 0;
  double resistant = 0;
};

struct LargerTrialSettings {
  std::size_t simulations = 100; ///< For each extension.
  std::uint64_t seed = 1;
};

/// Simulates what an extension would have brought, from the posterior: the unknowns are drawn, then
/// each animal's own levels given its counts, then further counts, or further animals like those
/// seen; the class is that of two_one_sided() on the headline interval of old and new counts
/// together: what this trial, had it been larger, would have shown. Further animals take their
/// level from the animals seen, which varies a little less than the model's.
///
/// Simulation s of extension t, both from 0, draws from replicate 1 + t S + s of the seed's stream
/// "larger trials", S being the simulations of each extension; the unknowns are drawn from
/// replicate 0. So the result depends on neither order nor threads, nor on any name. Returns
/// nothing if the comparison has no posterior, or a count above 5,000 eggs.
/// @throws InputError unless 0 < level < 1.
std::vector<LargerTrialOutcome> larger_trials(const Comparison& comparison,
                                              const PosteriorPriors& priors, double level,
                                              double lower_threshold, double expected,
                                              const std::vector<TrialExtension>& extensions,
                                              const LargerTrialSettings& settings);

} // namespace eggfall
