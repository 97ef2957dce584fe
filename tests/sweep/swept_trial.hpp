#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

/// An invented trial of the sweep, from the whole range of what a trial can be.
struct SweptTrial {
  std::uint64_t number = 0;
  eggfall::Design design = eggfall::Design::paired; ///< By the number, so that all come alike.
  eggfall::Trial trial;
  std::vector<std::string> oddities; ///< What was done to the counts beside simulating them.
  std::optional<eggfall::Comparison> comparison; ///< Empty: no animal with the samples needed.
};

/// Trial `number`, the same for the same seed: a CountModel with every parameter anywhere in its
/// range (many on a log scale), simulated, and in half of all trials made odder: no egg on one day,
/// factors or pools that differ between animals, samples missing, a count of 1,000,000, all animals
/// alike, all eggs in one animal.
SweptTrial swept_trial(std::uint64_t seed, std::uint64_t number);
