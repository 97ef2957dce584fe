#pragma once

#include "manual/command_tree.hpp"

#include <string>

namespace eggfall::manual {

/// A script that completes commands, options, their known values, files and folders in fish.
std::string fish_completion(const CommandTree& tree);

} // namespace eggfall::manual
