#pragma once

#include "eggfall/base/source.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The counts that a table must have columns for.
enum class NeededCounts {
  before_and_after,
  before, ///< A pilot count, before anything is treated.
};

/// What the user says about a counts table beside the table itself. A column of
/// the table wins over the option of the same meaning, row by row.
struct ReadOptions {
  std::optional<MultiplicationFactor> factor_before;
  std::optional<MultiplicationFactor> factor_after;
  std::string host; ///< The host of rows that name none.
  /// Name of the group to be taken as the control; if empty, the column role says it.
  std::string control;
  std::string trial_name = "trial"; ///< The trial's name in tables without a trial column.
  NeededCounts needed = NeededCounts::before_and_after;

  bool operator==(const ReadOptions&) const = default;
};

struct TrialTable {
  std::vector<Trial> trials;      ///< In order of first appearance, as are groups and animals.
  std::vector<std::string> notes; ///< What was understood loosely: columns ignored, and so on.
};

/// Turns a counts table (docs/data-format.md) into trials. `source` is as
/// in read_table().
///
/// Each row is one animal of one group, or one pool of animals. Counts are eggs seen, or EPG turned
/// back into eggs seen by the row's factor. An empty count means not sampled. Repeated counts of
/// one sample are combined() into one. Without a trial's name a row is of the trial of its farm.
/// Rows of one trial's name, but of different years, or of days 120 and more apart, are of
/// different trials, all of that name.
///
/// @throws InputError, with up to 20 problems, for anything read_table() refuses;
///   a missing, doubled or misspelt column, or one that contradicts another; a count that is no
///   whole number from 0 to EggsSeen::largest; an EPG that is no whole multiple of its factor; a
///   missing or impossible factor; a doubled animal; a group whose rows disagree on
///   role, drench, class, host, worm, farm, region or year; two farms or two control groups in a
///   trial; rows that do not tell which of a trial's tests they are of; an unknown
///   role, class or control; a date that is not YYYY-MM-DD or out of order; a
///   weight, dose, strength or label rate not above 0, label rates that disagree, or a weight or
///   dose of a pool.
TrialTable read_trials(std::string_view bytes, const Source& source, const ReadOptions& options);

} // namespace eggfall
