#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/dose_check.hpp"
#include "eggfall/judgement/missing_after.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <optional>

namespace eggfall {

/// By how many days the control's samples and a group's lie apart, at most; see days_apart(). Empty
/// where either is undated.
struct ControlDays {
  std::optional<int> first_samples;
  std::optional<int> second_samples;
};

/// Why the numbers of a group may not be what the table says they are.
struct UnitDoubt {
  enum class Kind { epg_as_eggs, swapped };
  Kind kind = Kind::epg_as_eggs;
  std::size_t counts = 0; ///< Above zero, equal ones once.
  /// What they have in common, if they look like EPG: a whole number, or a factor in thirds whose
  /// multiples were rounded.
  double divisor = 0;
  std::optional<double> rise; ///< (EPG after)/(EPG before), if they look swapped.
};

/// Shares of the label's dose so far off that they may be the whole reason for a result; practice.
/// A few hundredths less, as every gun gives, explain nothing.
inline constexpr DoseBounds bounds_that_bar{0.9, 1.5};

/// What the work in the field shows of one group, beside its counts.
struct FieldCheck {
  DoseCheck doses;
  DoseCheck gross_doses; ///< The same by bounds_that_bar: what can explain a fall, or its lack.
  DayCheck days;
  std::optional<MissingAfter> missing_after; ///< If the design pairs, and any animal is.
  std::optional<ControlDays> control;        ///< If there is a control group.
  std::optional<UnitDoubt> units;
};

/// `comparison` is that of the design shown, or nullptr; `control` is when the control group was
/// sampled, or nullptr.
/// @throws InputError as check_doses().
FieldCheck check_field(const Group& group, const Comparison* comparison, const UsualDays& usual,
                       const DayCheck* control);

} // namespace eggfall
