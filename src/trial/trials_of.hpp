#pragma once

#include "eggfall/trial/read_trials.hpp"
#include "formats/table.hpp"

#include <string>

namespace eggfall {

/// The trials of a counts table whose rows are read already. What it throws is what read_trials()
/// does of a table's rows and columns.
TrialTable trials_of(const Table& table, const ReadOptions& options);

/// Says that a trial of this name was in an earlier table.
[[noreturn]] void refuse_trial_again(const Source& source, const std::string& trial);

} // namespace eggfall
