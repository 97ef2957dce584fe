#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/trial/egg_count.hpp"

#include <cstddef>
#include <optional>

namespace eggfall {

/// What is written down at the bench for one counting method.
struct BenchFigures {
  static constexpr int most_chambers = 1'000; ///< That a user may count, from 1.
  /// Any mass or volume of a bench, which must also be above 0; more is a typing error.
  static constexpr ValueRange g_or_ml{0, 100'000};

  double faeces_g = 0;                     ///< Mass of faeces weighed, g.
  std::optional<double> added_ml;          ///< Liquid added to the faeces, mL.
  std::optional<double> total_ml;          ///< Volume of the finished suspension, mL.
  int chambers = 0;                        ///< Chambers (or grids) counted.
  std::optional<double> chamber_volume_ml; ///< Volume under one ruled chamber, mL.
};

/// Volume of the suspension: `total_ml`, or else `added_ml` plus the faeces
/// taken as 1 mL a gram (common practice, no source).
/// @throws InputError unless exactly one of the two volumes is given and all are
///   above zero and in `g_or_ml`, or if the total is less than the faeces take up.
double suspension_ml(const BenchFigures& bench);

/// factor (EPG per egg seen) = suspension mL / (faeces g x mL counted), with
/// mL counted = chambers x chamber volume. It is also the detection limit of a
/// single sample: the EPG reported when one egg is seen.
/// @throws InputError for a missing, zero or negative figure, if more is counted than there is
///   suspension, or if the factor is out of MultiplicationFactor's range.
MultiplicationFactor multiplication_factor(const BenchFigures& bench);

/// The EPG that a sample in which no egg was seen may still hold: -ln(0.05) x factor, at which none
/// is seen one time in twenty (Poisson; the "rule of three").
Epg most_unseen(MultiplicationFactor factor);

/// The whole chambers that hold at least `volume_ml`.
/// @throws InputError unless both volumes are above zero, and for more than a million chambers.
std::size_t chambers_for(double volume_ml, double chamber_volume_ml);

/// The volume that must be counted to reach a wanted factor, mL:
/// suspension / (faeces x wanted). `chambers` and `chamber_volume_ml` are not used.
/// @throws InputError as suspension_ml does, or if more would have to be counted
///   than there is suspension.
double volume_to_count_ml(const BenchFigures& bench, MultiplicationFactor wanted);

} // namespace eggfall
