#pragma once

#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial.hpp"
#include "trial/header_cells.hpp"

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

namespace eggfall {

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
  Column region;
  Column year;
  Column animals_in_pool;
  Column factor; ///< Of both occasions.
  OccasionColumns before;
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
};

/// Whether the group of the option --control came in any trial of a table.
class ControlOption {
public:
  explicit ControlOption(std::string group) : group_(std::move(group)) {}

  void look_in(const Trial& trial);

  /// A group that never came is a problem.
  void check(Problems& problems) const;

private:
  static constexpr std::size_t most_listed = 100;

  std::string group_;
  bool seen_ = false;
  std::set<std::string> others_;
};

/// The rows of one trial, put together row by row.
class TrialBuilder {
public:
  TrialBuilder(std::string name, const TrialColumns& columns, const ReadOptions& options);

  /// The trial that a row belongs to.
  static std::string_view name_of(const RowCells& row, const TrialColumns& columns,
                                  const ReadOptions& options);

  const std::string& name() const { return trial_.name; }

  void add(const RowCells& row);

  /// The trial, checked as a whole. Adds to `notes` what was understood loosely.
  Trial finish(const Source& source, Problems& problems, std::vector<std::string>& notes);

private:
  struct GroupRows {
    /// The role a group's rows give it, and the first line that does.
    std::optional<std::pair<Role, std::size_t>> role;
    std::unordered_map<std::string, std::size_t> line_of_tag;
  };

  std::size_t find_group(const Group& described);

  const TrialColumns& columns_;
  const ReadOptions& options_;
  Trial trial_;
  std::vector<GroupRows> group_rows_; ///< As trial_.groups.
  std::unordered_map<std::string, std::size_t> group_index_;
};

} // namespace eggfall
