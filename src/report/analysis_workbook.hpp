#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace eggfall {

/// A proportion that is shown in percent.
struct InPercent {
  double proportion = 0;

  double percent() const; ///< The very number that JSON holds.
  bool operator==(const InPercent&) const = default;
};

/// A value of a result, or nothing.
using ResultCell =
    std::variant<std::monostate, std::string, bool, std::uint64_t, double, InPercent>;

/// A table of results; every row is as wide as `columns`.
struct ResultSheet {
  std::string name;
  std::vector<std::string> columns;
  std::vector<std::vector<ResultCell>> rows;
};

/// One row a group and interval method, or one for a group without intervals; then the same for
/// each worm of the group.
ResultSheet intervals_sheet(const std::vector<TrialAnalysis>& trials);

/// The results as sheets of a workbook: Groups, Intervals, Verdicts, Animals, Caveats, Settings.
/// Columns are listed in docs/data-format.md. A missing value is an empty cell.
std::vector<ResultSheet> analysis_sheets(const std::vector<TrialAnalysis>& trials,
                                         const AnalysisSettings& settings);

} // namespace eggfall
