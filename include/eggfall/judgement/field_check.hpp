#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/dose_check.hpp"
#include "eggfall/judgement/missing_after.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <optional>

namespace eggfall {

/// By how many days at most the control's samples lie apart from a group's (days_apart()); empty
/// where the samples of either are undated.
struct ControlDays {
  std::optional<int> first_samples;
  std::optional<int> second_samples;
};

/// Why the numbers of a group may not be what the table says they are.
struct UnitDoubt {
  enum class Kind { epg_as_eggs, swapped };
  Kind kind = Kind::epg_as_eggs;
  std::size_t counts = 0; ///< How many different counts above zero there are.
  /// What all of them have in common, if they look like EPG: a whole number that divides them, or a
  /// factor in thirds whose multiples were rounded.
  double divisor = 0;
  std::optional<double> rise; ///< (EPG after)/(EPG before), if they look swapped.
};

/// Shares of the label's dose so far off that they may be the whole reason for a result; practice.
/// A few hundredths less, as every gun gives, explain nothing.
DoseBounds bounds_that_bar();

/// What the work in the field shows of one group, beside its counts.
struct FieldCheck {
  DoseCheck doses;
  DoseCheck gross_doses; ///< The same by bounds_that_bar(): doses that can explain a fall, or the
                         ///< lack of one.
  DayCheck days;
  /// Where the design pairs animals and any was not found again.
  std::optional<MissingAfter> missing_after;
  std::optional<ControlDays> control; ///< If there is a control group.
  std::optional<UnitDoubt> units;
};

/// `comparison` is that of the design shown, or nullptr if nothing could be compared; `control` has
/// the days of the control group, or is nullptr without one.
/// @throws InputError as check_doses().
FieldCheck check_field(const Group& group, const Comparison* comparison, const UsualDays& usual,
                       const DayCheck* control);

} // namespace eggfall
