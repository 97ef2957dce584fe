#pragma once

#include "teach/chamber/chamber_practical.hpp"

#include <string>

namespace eggfall {

/// Pictures of chambers to print at their true size and count, with what may be seen, the line
/// rule, and a table and steps to fill in.
std::string chamber_page(const ChamberPractical& practical);

} // namespace eggfall
