#pragma once

#include "manual/command_tree.hpp"

#include <string>

namespace eggfall::manual {

/// A script that completes commands, options, their known values, files and folders in zsh.
std::string zsh_completion(const CommandTree& tree);

} // namespace eggfall::manual
