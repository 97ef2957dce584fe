#include "eggfall/judgement/field_check.hpp"

#include "judgement/field_practice.hpp"
#include "judgement/unit_check.hpp"

namespace eggfall {
namespace {

std::optional<int> apart(const std::optional<DateRange>& treated,
                         const std::optional<DateRange>& control) {
  return treated && control ? std::optional(days_apart(*treated, *control)) : std::nullopt;
}

} // namespace

DoseBounds bounds_that_bar() {
  return {field_practice().underdose, overdosed_from()};
}

FieldCheck check_field(const Group& group, const Comparison* comparison, const UsualDays& usual,
                       const DayCheck* control) {
  FieldCheck check;
  check.doses = check_doses(group);
  check.gross_doses = check_doses(group, bounds_that_bar());
  check.days = check_days(group, usual);
  if (comparison != nullptr)
    check.missing_after = missing_after(group, *comparison);
  if (control != nullptr)
    check.control = ControlDays{apart(check.days.first_samples, control->first_samples),
                                apart(check.days.second_samples, control->second_samples)};
  check.units = doubt_units(group);
  return check;
}

} // namespace eggfall
