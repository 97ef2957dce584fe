#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/dose_check.hpp"
#include "eggfall/judgement/missing_after.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>

namespace eggfall {

/// By how many days the control's samples and a group's lie apart, at most; see days_apart(). Empty
/// where either is undated.
struct ControlDays {
  std::optional<int> first_samples;
  std::optional<int> second_samples;
};

/// What the work in the field shows of one group, beside its counts.
struct FieldCheck {
  DoseCheck doses;
  DayCheck days;
  std::optional<MissingAfter> missing_after; ///< If the design pairs, and any animal is.
  std::optional<ControlDays> control;        ///< If there is a control group.
};

/// `comparison` is that of the design shown, or nullptr; `control` is when the control group was
/// sampled, or nullptr.
/// @throws InputError as check_doses().
FieldCheck check_field(const Group& group, const Comparison* comparison, const UsualDays& usual,
                       const DayCheck* control);

} // namespace eggfall
