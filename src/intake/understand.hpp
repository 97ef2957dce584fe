#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "intake/layout.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The bytes of a file, and what names it.
struct TableBytes {
  std::string bytes;
  Source source;          ///< Its sheets wanted, parted by commas; empty: whatever there is.
  std::string trial_name; ///< For rows that name no trial.
};

/// Trials, and what their tables were taken for.
struct UnderstoodTables {
  TrialTable table; ///< Its notes hold what the reader of counts tables noticed.
  /// Lines for whoever judges the trial, and all there are; none for counts tables in our own form.
  std::vector<Wording> told;
  std::vector<Wording> all;
};

/// Reads tables as people keep them (docs/data-format.md). A counts table in our own form is read
/// by read_trials(), to the same trials. Any other is understood: its header is found, its columns
/// and cells are read by the words that farms and laboratories use, rows of samples are folded, and
/// sheets of one time are joined by animal. Then it is a counts table, and read_trials() reads it.
///
/// Nothing is dropped or guessed without a line that says so.
/// @throws OpenQuestion where two readings lead to different results and neither the tables nor the
///   layout tell which is meant; InputError for what has none. Of a table whose header is in our
///   own form, the error is read_trials()'s.
UnderstoodTables understand_tables(const std::vector<TableBytes>& tables,
                                   const ReadOptions& options, const Layout& layout);

} // namespace eggfall
