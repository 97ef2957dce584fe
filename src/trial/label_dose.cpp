#include "trial/label_dose.hpp"

#include "base/check_range.hpp"
#include "trial/possible_values.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

namespace eggfall {
namespace {

double in_range(double value, const ValueRange& possible, std::string_view what) {
  check_range(what, value, possible);
  return value;
}

} // namespace

double rate_per_kg(double amount, double kg) {
  return amount / in_range(kg, weights_kg, "the weight that a label's dose is for, kg");
}

LabelDose LabelDose::by_volume(double ml_per_kg) {
  return LabelDose(in_range(ml_per_kg, rates_ml_per_kg, "the label's dose, mL per kg"));
}

LabelDose LabelDose::by_substance(double mg_per_kg, double mg_per_ml) {
  in_range(mg_per_kg, milligrams, "the label's dose, mg per kg");
  in_range(mg_per_ml, milligrams, "the strength of the drench, mg per mL");
  LabelDose dose = by_volume(mg_per_kg / mg_per_ml);
  dose.mg_per_kg_ = mg_per_kg;
  dose.mg_per_ml_ = mg_per_ml;
  return dose;
}

double LabelDose::dose_ml(double weight_kg, double step_ml) const {
  in_range(weight_kg, weights_kg, "a weight, kg");
  in_range(step_ml, doses_ml, "the steps of a dose, mL");
  constexpr double rounding = 1e-9; // 0.2 x 30 must be 6 and not a step more
  const double steps = std::ceil(ml_per_kg_ * weight_kg / step_ml - rounding);
  const double steps_a_ml = std::round(1 / step_ml);
  if (std::abs(steps_a_ml * step_ml - 1) < rounding)
    return steps / steps_a_ml; // 63 x 0.1 would be 6.300000000000001
  return steps * step_ml;
}

} // namespace eggfall
