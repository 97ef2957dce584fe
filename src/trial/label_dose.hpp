#pragma once

#include <optional>

namespace eggfall {

/// What a label gives for so many kg of an animal, "1 mL per 5 kg", for one kg of it.
/// @throws InputError unless `kg` is from 0.1 to 2,000.
double rate_per_kg(double amount, double kg);

/// The dose rate on a product's label: by volume, or by substance and strength.
class LabelDose {
public:
  /// @throws InputError unless `ml_per_kg` is from 0.0001 to 2,000.
  static LabelDose by_volume(double ml_per_kg);
  /// @throws InputError unless both are from 0.001 to 10,000, or if the rate by volume is out
  ///   of range.
  static LabelDose by_substance(double mg_per_kg, double mg_per_ml);

  /// mg_per_kg / mg_per_ml, where the label gives these.
  double ml_per_kg() const { return ml_per_kg_; }
  std::optional<double> mg_per_kg() const { return mg_per_kg_; }
  std::optional<double> mg_per_ml() const { return mg_per_ml_; }

  /// ml_per_kg x `weight_kg`, rounded up to a whole number of `step_ml`: a drench gun has steps,
  /// and too little is the error to avoid (practice).
  /// @throws InputError unless the weight is from 0.1 to 2,000 kg and the step from 0.001 to 2,000
  /// mL.
  double dose_ml(double weight_kg, double step_ml) const;

private:
  explicit LabelDose(double ml_per_kg) : ml_per_kg_(ml_per_kg) {}

  double ml_per_kg_;
  std::optional<double> mg_per_kg_;
  std::optional<double> mg_per_ml_;
};

} // namespace eggfall
