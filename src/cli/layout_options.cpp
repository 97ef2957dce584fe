#include "cli/layout_options.hpp"

#include "cli/files.hpp"
#include "cli/values.hpp"

#include "base/user_text.hpp"
#include "trial/trial_columns.hpp"

#include <CLI/CLI.hpp>

#include <filesystem>
#include <system_error>

namespace eggfall::cli {
namespace {

/// Empty: there is none.
std::string file_beside(const std::string& table) {
  if (table == "-")
    return {};
  const std::filesystem::path file = std::filesystem::path(table).parent_path() / layout_file_name;
  std::error_code ignored;
  return std::filesystem::is_regular_file(file, ignored) ? file.string() : std::string();
}

Layout said_by(const LayoutOptions& options) {
  Layout layout;
  for (const std::string& column : options.columns)
    add_column(layout, column);
  for (const std::string& cell : options.cells)
    add_cell(layout, cell);
  if (!options.dates.empty())
    layout.dates = parse_date_order(options.dates);
  if (!options.counts.empty())
    layout.counts = parse_count_unit(options.counts);
  if (!options.day_before.empty())
    layout.day_before = options.day_before;
  if (!options.day_after.empty())
    layout.day_after = options.day_after;
  layout.mean_of = options.mean_of;
  if (!options.side_by_side.empty())
    layout.side_by_side = parse_side_by_side(options.side_by_side);
  layout.treated = options.treated;
  for (const std::string& occasion : options.occasions)
    layout.occasions.push_back(parse_occasion(occasion));
  return layout;
}

} // namespace

void add_layout_options(CLI::App& command, LayoutOptions& options) {
  command
      .add_option("--column", options.columns,
                  "What a column of the table is, as OURS=THEIRS: animal=\"Ear tag\"; several with "
                  "an option each (docs/data-format.md)")
      ->allow_extra_args(false);
  command
      .add_option("--cell", options.cells,
                  "What a word in a cell of counts means: nd=none-seen or nd=not-sampled")
      ->allow_extra_args(false);
  command.add_option("--dates", options.dates, "Order of 3/5/2031: day-first or month-first");
  command.add_option("--counts", options.counts,
                     "What columns of counts hold that do not say it: eggs (seen) or epg");
  command.add_option("--day-before", options.day_before,
                     "The day, date or word of the samples before treatment, of several");
  command.add_option("--day-after", options.day_after,
                     "The day, date or word of the samples after treatment, of several");
  command
      .add_option("--mean-of", options.mean_of,
                  "Each count in the table is the mean of so many counts of one sample")
      ->check(CLI::Range(2U, static_cast<unsigned>(most_repeats)));
  command
      .add_option("--occasions", options.occasions,
                  "Of tables or sheets with one time each: before,after in their order")
      ->delimiter(',')
      ->allow_extra_args(false);
  command.add_option("--side-by-side", options.side_by_side,
                     "What columns are that differ in a number or a name alone: repeats (of one "
                     "sample) or groups");
  command
      .add_option(
          "--treated", options.treated,
          "A group that was treated, though its name says otherwise; several with an option "
          "each")
      ->allow_extra_args(false);
  command
      .add_option("--layout", options.file,
                  "These answers from a TOML file (default: eggfall-layout.toml beside the table)")
      ->type_name(file_value);
}

ChosenLayout chosen_layout(const LayoutOptions& options, const std::vector<std::string>& tables) {
  ChosenLayout chosen{said_by(options), options.file};
  if (chosen.file.empty() && !tables.empty())
    chosen.file = file_beside(tables.front());
  if (!chosen.file.empty())
    chosen.layout =
        joined(std::move(chosen.layout), read_layout(read_file(chosen.file), chosen.file));
  return chosen;
}

} // namespace eggfall::cli
