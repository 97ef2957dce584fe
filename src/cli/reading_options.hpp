#pragma once

#include "cli/layout_options.hpp"

#include "eggfall/trial/read_trials.hpp"

#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace eggfall::cli {

/// What a command line says about its counts tables beside the tables themselves.
struct ReadingOptions {
  std::optional<double> factor;
  std::optional<double> factor_before;
  std::optional<double> factor_after;
  std::string host;
  std::string control;
  std::string sheet; ///< Of workbooks; empty: the first.
  LayoutOptions layout;
};

/// `--sheet`, for a command that reads tables.
void add_sheet_option(CLI::App& command, std::string& sheet);

void add_reading_options(CLI::App& command, ReadingOptions& options);

/// `--units-confirmed`: what looks like EPG typed as eggs, or swapped, is as the table says.
void add_units_option(CLI::App& command, bool& confirmed);

/// What options say, and what the layout says where they are silent.
Layout with_options(const ReadingOptions& options, const Layout& layout);

/// The same for one table, whose trial is named after its file; the layout says what options do
/// not.
/// @throws InputError for an impossible factor.
ReadOptions read_options(const ReadingOptions& options, const Layout& layout,
                         const std::string& table);

} // namespace eggfall::cli
