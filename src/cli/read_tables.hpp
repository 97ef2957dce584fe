#pragma once

#include "cli/reading_options.hpp"

#include "intake/table_files.hpp"

#include <string>
#include <vector>

namespace eggfall::cli {

/// Reads files of counts in whatever form they are kept.
/// @throws InputError for what cannot be read or understood, with one question if an answer would
///   do.
UnderstoodTables read_tables(const std::vector<std::string>& paths, const ReadingOptions& options,
                             NeededCounts needed = NeededCounts::before_and_after);

/// The same of files that were read already, by a layout that was chosen.
UnderstoodTables read_tables(const std::vector<TableFile>& files, const ReadingOptions& options,
                             const ChosenLayout& chosen,
                             NeededCounts needed = NeededCounts::before_and_after);

/// The answers given by options and the layout's file together, to be kept for the next tables.
Layout kept_layout(const std::vector<std::string>& paths, const ReadingOptions& options);

/// Tells what the tables were taken for, and what was noticed.
void tell_reading(const UnderstoodTables& tables);

} // namespace eggfall::cli
