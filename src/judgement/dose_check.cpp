#include "eggfall/judgement/dose_check.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "judgement/field_practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace eggfall {
namespace {

/// Decimal doses and weights are not exact in binary: 150% must not come out as a hair less.
constexpr double rounding = 1e-9;

void check_number(const std::optional<double>& value, bool zero_too, std::string_view what,
                  const Animal& animal) {
  if (!value || (std::isfinite(*value) && (*value > 0 || (zero_too && *value == 0))))
    return;
  throw InputError(fmt::format("animal {}: found {} {:g}; expected a number {} 0",
                               in_quotes(animal.tag), what, *value,
                               zero_too ? "not below" : "above"));
}

AnimalDose dose_of(const Animal& animal) {
  check_number(animal.weight_kg, false, "a weight in kg of", animal);
  check_number(animal.dose_ml, true, "a dose in mL of", animal);
  check_number(animal.label_ml_per_kg, false, "a label rate in mL per kg of", animal);
  check_number(animal.mg_per_ml, false, "a strength in mg per mL of", animal);
  AnimalDose dose{animal.tag, animal.weight_kg, animal.dose_ml, {}, {}, {}};
  if (animal.weight_kg && animal.label_ml_per_kg)
    dose.needed_ml = *animal.label_ml_per_kg * *animal.weight_kg;
  if (animal.dose_ml && dose.needed_ml)
    dose.share = *animal.dose_ml / *dose.needed_ml;
  if (animal.dose_ml && animal.weight_kg && animal.mg_per_ml)
    dose.mg_per_kg = *animal.dose_ml * *animal.mg_per_ml / *animal.weight_kg;
  return dose;
}

std::optional<double> one_dose(const std::vector<AnimalDose>& animals) {
  std::optional<double> dose;
  std::size_t dosed = 0;
  for (const AnimalDose& animal : animals) {
    if (!animal.dose_ml)
      continue;
    if (dose && *dose != *animal.dose_ml)
      return std::nullopt;
    dose = animal.dose_ml;
    ++dosed;
  }
  return dosed >= 2 ? dose : std::nullopt;
}

std::optional<double> reduction_without(const std::vector<std::size_t>& under, const Group& group) {
  double before = 0;
  double after = 0;
  std::size_t left = 0;
  std::size_t taken_out = 0;
  for (std::size_t i = 0; i < group.animals.size(); ++i) {
    const Animal& animal = group.animals[i];
    if (!animal.before || !animal.after)
      continue;
    if (std::ranges::binary_search(under, i)) {
      ++taken_out;
      continue;
    }
    before += animal.before->epg_of_all();
    after += animal.after->epg_of_all();
    ++left;
  }
  if (taken_out == 0 || left < 2 || before == 0)
    return std::nullopt;
  return 1 - after / before;
}

} // namespace

double overdosed_from() {
  return field_practice().overdose;
}

DoseCheck check_doses(const Group& group, const DoseBounds& bounds) {
  if (!(bounds.under > 0 && bounds.under <= 1 && bounds.over >= 1))
    throw InputError(fmt::format("dose bounds: found {:g} and {:g}; expected one above 0 and at "
                                 "most 1, and one of 1 or more",
                                 bounds.under, bounds.over));
  DoseCheck check;
  check.bounds = bounds;
  for (std::size_t i = 0; i < group.animals.size(); ++i) {
    check.animals.push_back(dose_of(group.animals[i]));
    const AnimalDose& dose = check.animals.back();
    check.dosed = check.dosed || dose.dose_ml;
    if (dose.weight_kg &&
        (!check.heaviest || *dose.weight_kg > *check.animals[*check.heaviest].weight_kg))
      check.heaviest = i;
    if (dose.dose_ml && !dose.weight_kg)
      check.not_weighed.push_back(i);
    if (dose.weight_kg && !dose.dose_ml)
      check.not_dosed.push_back(i);
    if (dose.weight_kg && dose.dose_ml && !dose.needed_ml)
      check.no_label_rate.push_back(i);
    if (!dose.share)
      continue;
    ++check.checked;
    if (*dose.share < bounds.under * (1 - rounding))
      check.under.push_back(i);
    if (*dose.share >= bounds.over * (1 - rounding))
      check.over.push_back(i);
    if (!check.lowest || *dose.share < *check.animals[*check.lowest].share)
      check.lowest = i;
    if (!check.highest || *dose.share > *check.animals[*check.highest].share)
      check.highest = i;
  }
  check.reduction_without_under = reduction_without(check.under, group);
  for (std::size_t i = 0; i < group.animals.size(); ++i)
    check.dosed_enough += group.animals[i].before && group.animals[i].after &&
                                  !std::ranges::binary_search(check.under, i)
                              ? 1
                              : 0;
  check.one_dose_ml = one_dose(check.animals);
  return check;
}

} // namespace eggfall
