#pragma once

namespace eggfall {

/// From the least to the most that a cell or an option may hold; what lies outside is taken for a
/// typing error, and would be shown as "inf%" at its worst.
struct PossibleValues {
  double least;
  double most;

  constexpr bool hold(double value) const { return value >= least && value <= most; }
};

inline constexpr PossibleValues weights_kg{0.1, 2'000};
inline constexpr PossibleValues doses_ml{0.001, 2'000};
inline constexpr PossibleValues rates_ml_per_kg{0.0001, 2'000};
inline constexpr PossibleValues milligrams{0.001, 10'000}; ///< A kg, or a mL.
inline constexpr double largest_epg = 1'000'000;

} // namespace eggfall
