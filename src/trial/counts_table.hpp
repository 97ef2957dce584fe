#pragma once

#include "eggfall/trial/trial.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The cells of a counts table (docs/data-format.md), as texts; every row is as wide as `columns`.
struct CountsCells {
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;
};

/// The cells of the table that counts_table() writes. Throws as it does.
CountsCells counts_cells(const std::vector<Trial>& trials);

/// Trials as a counts table, CSV (docs/data-format.md): read_trials() makes the same trials of it.
/// A column that no animal needs is left out; repeated counts of a sample are written as their sum.
/// @throws InputError for a tag, group or trial that a counts table cannot hold: an empty one.
std::string counts_table(const std::vector<Trial>& trials);

/// The larvae of all cultures as a larvae table, CSV: read_cultures() adds the same to the trials.
/// Empty if there are none.
/// @throws CalculationError for a culture told in percentages, or of several groups.
std::string larvae_table(const std::vector<Trial>& trials);

} // namespace eggfall
