#pragma once

#include "teach/chamber/chamber_practical.hpp"

#include <string>

namespace eggfall {

/// The pictures of chamber_page() with every counted egg numbered, the counts and the arithmetic,
/// and the truth behind them, for whoever teaches.
std::string chamber_key_page(const ChamberPractical& practical);

} // namespace eggfall
