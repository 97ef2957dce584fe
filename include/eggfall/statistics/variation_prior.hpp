#pragma once

namespace eggfall {

/// Prior of a coefficient of variation: half-normal, cut to
/// lowest * scale <= cv <= highest * scale.
struct VariationPrior {
  static constexpr double lowest = 0.02;
  static constexpr double highest = 1.7;
  double scale = 1.0; ///< Above 0.

  bool operator==(const VariationPrior&) const = default;
};

} // namespace eggfall
