#pragma once

#include "simulation/scenario.hpp"

#include <cstddef>
#include <cstdint>

/// A test without a flaw, of sheep.
struct Yard {
  double efficacy = 0.95;
  double eggs = 20; ///< Seen a head before treatment.
  std::size_t controls = 0;
  double season = 1; ///< What the counts of all animals are multiplied by, treated or not.
  int days_after = 14;
};

/// Fifteen sheep, sampled again on a usual day, given what the label says for their weights.
eggfall::Scenario sound(const Yard& yard);

/// A gun that gives 3% more or less, and one animal that was not found again.
void as_in_a_yard(eggfall::Group& group, std::uint64_t seed, std::uint32_t number);
