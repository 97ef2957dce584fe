#pragma once

#include <optional>

namespace eggfall {

/// The dose rate on a product's label: by volume, or by substance and strength.
class LabelDose {
public:
  /// @throws InputError unless 0 < `ml_per_kg` <= 2,000.
  static LabelDose by_volume(double ml_per_kg);
  /// @throws InputError unless both are above 0 and at most 10,000, or if the rate by volume is out
  ///   of range.
  static LabelDose by_substance(double mg_per_kg, double mg_per_ml);

  /// mg_per_kg / mg_per_ml, where the label gives these.
  double ml_per_kg() const { return ml_per_kg_; }
  std::optional<double> mg_per_kg() const { return mg_per_kg_; }
  std::optional<double> mg_per_ml() const { return mg_per_ml_; }

  /// ml_per_kg x `weight_kg`, rounded up to a whole number of `step_ml`: a drench gun has steps,
  /// and too little is the error to avoid (practice).
  /// @throws InputError unless 0 < weight_kg <= 2,000 and 0 < step_ml <= 2,000.
  double dose_ml(double weight_kg, double step_ml) const;

private:
  explicit LabelDose(double ml_per_kg) : ml_per_kg_(ml_per_kg) {}

  double ml_per_kg_;
  std::optional<double> mg_per_kg_;
  std::optional<double> mg_per_ml_;
};

} // namespace eggfall
