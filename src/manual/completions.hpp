#pragma once

#include "manual/command_tree.hpp"

#include <string>

namespace eggfall::manual {

/// Scripts that complete commands, options, their known values, files and folders in a shell.
std::string bash_completion(const CommandTree& tree);
std::string fish_completion(const CommandTree& tree);
std::string zsh_completion(const CommandTree& tree);

} // namespace eggfall::manual
