#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/option_name.hpp"
#include "cli/read_tables.hpp"
#include "cli/reading_options.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"
#include "cli/workbook_bytes.hpp"

#include "base/text.hpp"
#include "intake/reading_json.hpp"
#include "intake/reading_text.hpp"
#include "trial/counts_table.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace eggfall::cli {
namespace {

struct ReadCommandOptions {
  std::vector<std::string> tables;
  ReadingOptions reading;
  std::string table_file;
  std::string keep_file;
  std::string json_file;
};

/// Names stay texts, whatever they look like.
bool holds_names(const std::string& column) {
  constexpr std::array<std::string_view, 10> columns{
      "trial", "farm", "group", "animal", "role", "drench", "class", "host", "worm", "region"};
  return std::ranges::find(columns, column) != columns.end();
}

ResultSheet counts_sheet(const std::vector<Trial>& trials) {
  CountsCells cells = counts_cells(trials);
  ResultSheet sheet{"Counts", cells.columns, {}};
  for (std::vector<std::string>& row : cells.rows) {
    std::vector<ResultCell> written;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const auto number = holds_names(cells.columns[i]) ? std::nullopt : parse_number(row[i]);
      if (number)
        written.emplace_back(*number);
      else
        written.emplace_back(std::move(row[i]));
    }
    sheet.rows.push_back(std::move(written));
  }
  return sheet;
}

std::string counts_file(const std::string& path, const std::vector<Trial>& trials) {
  return lower_case(path).ends_with(".xlsx") ? workbook_bytes({counts_sheet(trials)})
                                             : counts_table(trials);
}

void run_read(const ReadCommandOptions& options) {
  const std::vector<std::string> outputs =
      given({options.table_file, options.keep_file, options.json_file});
  std::vector<std::string> inputs = given({options.reading.layout.file});
  inputs.insert(inputs.end(), options.tables.begin(), options.tables.end());
  const bool on_screen = screen_is_free(outputs);
  check_outputs(outputs, inputs);
  const UnderstoodTables understood = read_tables(options.tables, options.reading);
  std::vector<OutputFile> files;
  if (!options.table_file.empty())
    files.push_back({options.table_file, counts_file(options.table_file, understood.table.trials)});
  if (!options.keep_file.empty())
    files.push_back({options.keep_file, layout_toml(kept_layout(options.tables, options.reading))});
  if (!options.json_file.empty())
    files.push_back({options.json_file, reading_json(understood)});
  write_files(files, inputs);
  if (on_screen)
    show(reading_text(understood, option_names));
}

} // namespace

void add_read(CLI::App& app, Action& action) {
  auto options = std::make_shared<ReadCommandOptions>();
  CLI::App& command = *app.add_subcommand(
      "read", "Show what tables of counts are taken for, and write them in our own form");
  command
      .add_option("TABLE", options->tables,
                  "Tables of counts, CSV, .xlsx or .ods, as you keep them; - is standard input")
      ->type_name(file_value)
      ->required();
  add_reading_options(command, options->reading);
  command
      .add_option("--table", options->table_file,
                  "Write the counts table, to be looked at and mended by hand: .xlsx, or else CSV; "
                  "- is standard output")
      ->type_name(file_value);
  command
      .add_option("--keep", options->keep_file,
                  "Write the answers given by options to a layout file, for the next sheets")
      ->type_name(file_value);
  command
      .add_option("--json", options->json_file,
                  "Write what was understood as JSON; - is standard output")
      ->type_name(file_value);
  command.footer("Example: eggfall read lab.xlsx --factor 50 --table counts.csv");
  command.callback([options, &action] { action = [options] { run_read(*options); }; });
}

} // namespace eggfall::cli
