#pragma once

#include "simulation/audit_grid.hpp"

#include <string>

namespace eggfall::cli {

/// "--without-worms" for "without_worms_percent".
std::string farm_option_name(const FarmField& field);

} // namespace eggfall::cli
