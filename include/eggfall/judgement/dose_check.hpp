#pragma once

#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// The share of the label's dose from which on a dose is too much: a threshold of field practice
/// (docs/cut-offs.md).
double overdosed_from();

/// Shares of the label's dose for the weight from which a dose is called wrong.
struct DoseBounds {
  double under = 0.99;            ///< Below this an animal was under-dosed: room for rounding only.
  double over = overdosed_from(); ///< From this on it was overdosed.
};

/// What one animal was given, beside what the label asks for its weight.
struct AnimalDose {
  std::string animal;
  std::optional<double> weight_kg;
  std::optional<double> dose_ml;
  /// label_ml_per_kg x weight_kg; empty unless both are known.
  std::optional<double> needed_ml;
  /// dose_ml / needed_ml; empty unless both are known.
  std::optional<double> share;
  /// dose_ml x mg_per_ml / weight_kg; empty unless all three are known.
  std::optional<double> mg_per_kg;
};

/// The doses of one group. Animals in lists and at indices are in the group's order.
struct DoseCheck {
  std::vector<AnimalDose> animals; ///< One for each animal of the group, in its order.
  DoseBounds bounds;               ///< The bounds that `under` and `over` were made with.
  std::size_t checked = 0;         ///< Animals whose share is known.
  std::vector<std::size_t> under;  ///< Indices into `animals` of those under-dosed.
  std::vector<std::size_t> over;   ///< Indices of those overdosed.
  /// 1 - (sum after)/(sum before) of the animals sampled twice without those in `under`, in EPG x
  /// animals of the sample; empty if none is in it, fewer than two are left, or they had no egg.
  std::optional<double> reduction_without_under;
  std::size_t dosed_enough = 0;       ///< Animals sampled twice and not in `under`.
  std::optional<std::size_t> lowest;  ///< Index of the lowest share, the first of equals.
  std::optional<std::size_t> highest; ///< Index of the highest share.
  /// The dose in mL if all animals dosed, two or more, got the same: one setting of the gun.
  std::optional<double> one_dose_ml;
  /// Index of the heaviest animal weighed. Where one dose is given to all, practice is to set it
  /// for this one.
  std::optional<std::size_t> heaviest;
  std::vector<std::size_t> not_weighed;   ///< Dosed, but without a weight.
  std::vector<std::size_t> not_dosed;     ///< Weighed, but without a dose.
  std::vector<std::size_t> no_label_rate; ///< Weighed and dosed, but without the label's rate.
  bool dosed = false;                     ///< Whether there was any dose.

  /// Whether there was any weight or dose.
  bool any() const { return dosed || heaviest; }
};

/// Compares every animal's dose with the label's for its weight.
/// @throws InputError unless weights, label rates and strengths are above 0 and doses not below it,
///   or unless 0 < bounds.under <= 1 <= bounds.over.
DoseCheck check_doses(const Group& group, const DoseBounds& bounds = {});

} // namespace eggfall
