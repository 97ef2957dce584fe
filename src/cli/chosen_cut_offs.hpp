#pragma once

#include "eggfall/judgement/cut_offs.hpp"

#include <string>

namespace CLI {
class App;
}

namespace eggfall::cli {

/// Adds --cutoffs, the name of the user's own file.
void add_cut_offs_option(CLI::App& command, std::string& own_file);

/// Adds --criteria, the one to judge by.
void add_criteria_option(CLI::App& command, std::string& name);

/// The published cut-offs, those of the user's own file in front; its name may be empty.
CutOffs chosen_cut_offs(const std::string& own_file);

} // namespace eggfall::cli
