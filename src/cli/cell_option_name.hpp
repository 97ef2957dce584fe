#pragma once

#include "simulation/audit_grid.hpp"

#include <string>

namespace eggfall::cli {

/// "--without-worms" for "without_worms_percent".
std::string cell_option_name(const CellField& field);

} // namespace eggfall::cli
