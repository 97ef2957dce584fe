#pragma once

namespace eggfall {

// More than this in a cell or an option is taken for a typing error.
inline constexpr double heaviest_kg = 2'000;
inline constexpr double largest_dose_ml = 2'000;
inline constexpr double largest_mg = 10'000;
inline constexpr double largest_epg = 1'000'000;

} // namespace eggfall
