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

/// The eggs of one group of animals as a program holds them, in the place of that group's rows in a
/// counts table. Its members say what the columns of that table say (docs/data-format.md), by the
/// same names but for `name` (group) and `classes` (class). What has no member here (days, doses,
/// pools, repeats, visits, eggs told apart) is not known of the group, as of a table without those
/// columns: whoever knows it writes a table.
struct CountedGroup {
  std::string name; ///< Not empty, and of one group alone.
  /// Empty: treated, unless ReadOptions::control names the group.
  std::optional<Role> role = {};
  std::string drench = {};             ///< As the user calls it; may be empty.
  std::vector<DrugClass> classes = {}; ///< May be empty; a substance in `drench` then tells it.
  std::string worm = {};               ///< In any spelling that canonical_worm() knows, or empty.
  /// Eggs seen in one sample of each animal: whole numbers from 0 to EggsSeen::largest, no EPG (for
  /// those see eggs_behind()). Index i is the same animal in both, so that both have one length, 1
  /// or more; an animal that was not sampled on an occasion has an empty count there.
  std::vector<std::optional<double>> eggs_before = {};
  std::vector<std::optional<double>> eggs_after = {};
};

/// The one trial of these groups, as read_trials() makes it of a counts table that says the same:
/// by the same checks, with the same notes. Animals are called "1", "2", ... in the order of their
/// counts, and have no line. ReadOptions say what one egg seen stands for, the host, and perhaps
/// the control.
///
/// @throws InputError, with up to 20 problems, each with its group and the animal's number: without
///   a group or a count; for a group of no name, of another's, or of one that tables have for sums;
///   for lengths that differ; for a text that is not UTF-8, or of more than 1,000 bytes; for more
///   than 1,000,000 animals; for a host that is almost a known one; and for all that the other
///   read_trials() refuses in a table's cells.
TrialTable read_trials(const std::vector<CountedGroup>& groups, const ReadOptions& options);

} // namespace eggfall
