#pragma once

#include "eggfall/base/error.hpp"

namespace eggfall {

// What a cell or an option may hold: what lies outside is taken for a typing error, and would be
// shown as "inf%" at its worst.
inline constexpr ValueRange weights_kg{0.1, 2'000};
inline constexpr ValueRange doses_ml{0.001, 2'000};
inline constexpr ValueRange rates_ml_per_kg{0.0001, 2'000};
inline constexpr ValueRange milligrams{0.001, 10'000}; ///< A kg, or a mL.
inline constexpr double largest_epg = 1'000'000;

} // namespace eggfall
