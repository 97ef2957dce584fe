#include "cli/reading_options.hpp"

#include "cli/values.hpp"

#include "base/user_text.hpp"

#include <CLI/CLI.hpp>

#include <filesystem>

namespace eggfall::cli {
namespace {

std::optional<MultiplicationFactor> factor(const std::optional<double>& own,
                                           const std::optional<double>& shared) {
  const auto& value = own ? own : shared;
  return value ? std::optional(MultiplicationFactor(*value)) : std::nullopt;
}

} // namespace

void add_sheet_option(CLI::App& command, std::string& sheet) {
  command.add_option("--sheet", sheet,
                     "The sheet to read of a workbook, .xlsx or .ods (default: the first)");
}

void add_reading_options(CLI::App& command, ReadingOptions& options) {
  command.add_option("--sheet", options.sheet,
                     "The sheet to read of a workbook (default: the first with counts before and "
                     "after, or those of either time); several, parted by commas");
  command.add_option("--factor", options.factor,
                     "EPG per egg seen, before and after, where the table has no factor");
  command.add_option("--factor-before", options.factor_before, "EPG per egg seen before treatment");
  command.add_option("--factor-after", options.factor_after, "EPG per egg seen after treatment");
  command.add_option("--host", options.host, "sheep, goats, cattle, horses, pigs or another")
      ->check(hosts());
  command.add_option("--control", options.control, "Name of the untreated control group");
  add_layout_options(command, options.layout);
}

void add_units_option(CLI::App& command, bool& confirmed) {
  command.add_flag(
      "--units-confirmed", confirmed,
      "The counts are eggs, and before and after are right, though they look otherwise");
}

ReadOptions read_options(const ReadingOptions& options, const Layout& layout,
                         const std::string& table) {
  ReadOptions read;
  read.factor_before = factor(options.factor_before, options.factor);
  read.factor_after = factor(options.factor_after, options.factor);
  if (!read.factor_before)
    read.factor_before = factor(layout.factor_before, layout.factor);
  if (!read.factor_after)
    read.factor_after = factor(layout.factor_after, layout.factor);
  read.host = options.host.empty() ? layout.host : options.host;
  read.control = options.control.empty() ? layout.control : options.control;
  read.trial_name = table == "-" ? "" : normalised(std::filesystem::path(table).stem().string());
  if (read.trial_name.empty()) // or nothing in the file's name can be shown
    read.trial_name = "trial";
  return read;
}

} // namespace eggfall::cli
