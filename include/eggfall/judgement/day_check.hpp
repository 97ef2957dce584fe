#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/trial/trial.hpp"

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// The day of the second sample when drenches of several classes are compared, or joined in one
/// product: a threshold of field practice (docs/cut-offs.md).
int common_day();

/// The days from treatment to the second sample where no window is known: thresholds of field
/// practice too.
int first_day_of_practice();
int last_day_of_practice();

/// The days after treatment on which the second sample of a group is usually taken.
struct UsualDays {
  int first_day = first_day_of_practice();
  int last_day = last_day_of_practice();
  /// Whose windows these are; empty: no class is known, or none has a window.
  std::vector<DrugClass> classes;
  /// Several classes without a day in common: both days above are then common_day().
  bool no_day_in_common = false;
  /// Drenches of several classes are compared in this trial, so that common_day() serves too.
  bool drug_classes_compared = false;
  Citation citation{"practice", Provenance::practice};
};

/// The window of the group's class (window_for()); of several classes the days common to the
/// windows of all (one without a window counts with the days of practice), or common_day() if
/// there are none. `trial` is the one the group is of.
UsualDays usual_days(const CutOffs& cut_offs, const Group& group, const Trial& trial);

/// The visit that a reduction test of the group is judged on, by the days that its visits were
/// planned for: of those on usual days the nearest to common_day(), or else the nearest to the
/// usual days; of two alike the later, since an early sample may flatter a drench. Nothing if the
/// group has no visits, or a sample after treatment that is the test's own.
std::optional<int> test_day(const Group& group, const UsualDays& usual);

/// Days of one animal; empty where a date or the sample is missing.
struct AnimalDays {
  std::optional<int> before; ///< From the first sample to treatment.
  std::optional<int> after;  ///< From treatment to the second sample: by dates, or as planned.
};

struct DateRange {
  std::chrono::year_month_day first;
  std::chrono::year_month_day last;
};

/// When the animals of one group were sampled and treated.
struct DayCheck {
  std::vector<AnimalDays> animals; ///< One for each animal of the group, in its order.
  std::size_t undated = 0;         ///< Animals sampled after treatment on a day that is not known.
  std::optional<int> first_day;    ///< The least AnimalDays::after.
  std::optional<int> last_day;     ///< The greatest of the same.
  std::optional<int> longest_before; ///< The greatest AnimalDays::before.
  UsualDays usual;
  std::size_t early = 0; ///< Animals sampled before the usual days, and not on an accepted day.
  std::size_t late = 0;  ///< Animals sampled after the usual days, and not on an accepted day.
  std::optional<DateRange> first_samples;
  std::optional<DateRange> treatments;
  std::optional<DateRange> second_samples;
};

DayCheck check_days(const Group& group, const UsualDays& usual);

/// The greater of the days between two first dates and between two last ones: 0 if the ranges
/// are the same.
int days_apart(const DateRange& a, const DateRange& b);

/// Days from a range's first date to its last; 0 if they are the same.
int length_days(const DateRange& range);

/// The treated group of a trial whose treatment began first, the first of equals.
struct FirstTreated {
  std::string group;
  std::chrono::year_month_day date;
};

/// Nothing if no treatment is dated.
std::optional<FirstTreated> first_treated(const Trial& trial);

} // namespace eggfall
