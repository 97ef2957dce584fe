#pragma once

#include "eggfall/trial/read_trials.hpp"
#include "formats/table.hpp"

namespace eggfall {

/// The trials of a counts table whose rows are read already. What it throws is what read_trials()
/// does of a table's rows and columns.
TrialTable trials_of(const Table& table, const ReadOptions& options);

} // namespace eggfall
