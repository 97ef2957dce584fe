#pragma once

#include "eggfall/cut_offs.hpp"

#include <string>

namespace eggfall::cli {

/// The published cut-offs, those of the user's own file in front; its name may be empty.
CutOffs chosen_cut_offs(const std::string& own_file);

} // namespace eggfall::cli
