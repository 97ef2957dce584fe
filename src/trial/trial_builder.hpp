#pragma once

#include "base/problems.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial.hpp"
#include "trial/header_cells.hpp"
#include "trial/trial_columns.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

namespace eggfall {

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
  void agree_on_farm(const std::string& farm, const RowCells& row);

  const TrialColumns& columns_;
  const ReadOptions& options_;
  Trial trial_;
  std::string farm_; ///< Of the trial; empty if no row names one.
  std::size_t line_of_farm_ = 0;
  std::vector<GroupRows> group_rows_; ///< As trial_.groups.
  std::unordered_map<std::string, std::size_t> group_index_;
};

} // namespace eggfall
