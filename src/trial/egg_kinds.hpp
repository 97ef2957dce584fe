#pragma once

#include "eggfall/trial/trial.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The kinds of egg that a group's animals have in columns of their own, by name.
std::vector<std::string> kinds_told_apart(const Group& group);

/// The group with the counts of one kind in place of the others, and that kind as its worm.
Group of_kind(const Group& group, const std::string& kind);

/// The group's cultures without the larvae of `kinds`, and what its thresholds hang on; not its
/// animals.
Group without_larvae_of(const Group& group, const std::vector<std::string>& kinds);

} // namespace eggfall
