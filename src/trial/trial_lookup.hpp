#pragma once

#include "eggfall/trial/trial.hpp"

#include <algorithm>
#include <optional>
#include <vector>

namespace eggfall {

/// The counts of one occasion, &Animal::before or &Animal::after, of the animals that have one.
inline std::vector<Count> counts_when(const std::vector<Animal>& animals,
                                      std::optional<Count> Animal::*when) {
  std::vector<Count> counts;
  for (const Animal& animal : animals)
    if (animal.*when)
      counts.push_back(*(animal.*when));
  return counts;
}

/// The first group of a role; there must be one. Constant if the trial is.
auto& group_of(auto& trial, Role role) {
  return *std::ranges::find(trial.groups, role, &Group::role);
}

} // namespace eggfall
