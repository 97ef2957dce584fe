#include "cli/reading_options.hpp"

#include "cli/values.hpp"

#include "intake/table_files.hpp"

#include <CLI/CLI.hpp>

#include <utility>

namespace eggfall::cli {
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
  command.add_option("--host", options.host, hosts_to_choose())->check(hosts());
  command.add_option("--control", options.control, "Name of the untreated control group");
  add_layout_options(command, options.layout);
}

void add_units_option(CLI::App& command, bool& confirmed) {
  command.add_flag(
      "--units-confirmed", confirmed,
      "The counts are eggs, and before and after are right, though they look otherwise");
}

Layout with_options(const ReadingOptions& options, const Layout& layout) {
  Layout said;
  said.factor = options.factor;
  said.factor_before = options.factor_before;
  said.factor_after = options.factor_after;
  said.host = options.host;
  said.control = options.control;
  return joined(std::move(said), layout);
}

ReadOptions read_options(const ReadingOptions& options, const Layout& layout,
                         const std::string& table) {
  return eggfall::read_options(with_options(options, layout), table == "-" ? "" : table);
}

} // namespace eggfall::cli
