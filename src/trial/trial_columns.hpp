#pragma once

#include "eggfall/trial/read_trials.hpp"
#include "trial/header_cells.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Counts of one sample that a table may hold.
inline constexpr std::size_t most_repeats = 20;

/// A column of counts.
struct CountColumn {
  Column count;
  bool as_epg = false; ///< Otherwise eggs seen.
  Column factor;       ///< Of this count alone, in place of the row's.
};

/// The columns of one occasion.
struct OccasionColumns {
  std::vector<CountColumn> counts; ///< One, or the repeats of it by number.
  Column factor;                   ///< Of each count.
};

/// Visits after treatment that a table may hold.
inline constexpr std::size_t most_visits = 40;

/// The day of "28" or "28_2", as it stands behind eggs_day: ; nothing unless it is a whole number
/// from 1 to latest_visit_day, with no zero before it.
std::optional<int> visit_day(std::string_view rest);

/// The columns of a visit, such as eggs_day:28.
struct VisitColumns {
  int day = 0;
  OccasionColumns columns;
};

/// The columns of one kind of egg that was told apart on the slide.
struct KindColumns {
  std::string worm; ///< canonical_worm().
  CountColumn before;
  CountColumn after;
};

/// The columns of a counts table (docs/data-format.md).
struct TrialColumns {
  /// Missing, doubled and contradicting columns are problems.
  TrialColumns(HeaderCells& header, NeededCounts needed);

  Column trial;
  Column group;
  Column animal;
  Column role;
  Column drench;
  Column drug_class;
  Column host;
  Column worm;
  Column farm;
  Column region;
  Column year;
  Column animals_in_pool;
  Column factor; ///< Of both occasions.
  OccasionColumns before;
  std::vector<VisitColumns> visits; ///< In the order of their days.
  OccasionColumns after;
  std::vector<KindColumns> kinds;
  Column weight_kg;
  Column dose_ml;
  Column mg_per_ml;
  Column label_mg_per_kg;
  Column label_ml_per_kg;
  Column date_before;
  Column date_treated;
  Column date_after;
  Column days_after; ///< From treatment to the counts after it, where no dates tell them.
};

} // namespace eggfall
