#include "cli/chosen_cut_offs.hpp"
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/option_name.hpp"
#include "cli/png.hpp"
#include "cli/read_tables.hpp"
#include "cli/reading_options.hpp"
#include "cli/refuse_file.hpp"
#include "cli/screen.hpp"
#include "cli/values.hpp"
#include "cli/workbook_bytes.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/report/analysis_text.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "formats/drawing/document_page.hpp"
#include "formats/terminal_text.hpp"
#include "formats/word_document.hpp"
#include "report/analysis_workbook.hpp"
#include "report/farmer_letter.hpp"
#include "report/figures/analysis_figures.hpp"
#include "report/safety_note.hpp"
#include "trial/trial_time.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <exception>
#include <filesystem>
#include <iterator>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace eggfall::cli {
namespace {

/// All groups are held until the end, at some 90 kB each.
constexpr std::size_t most_groups = 10'000;

struct AnalyseOptions {
  std::vector<std::string> tables;
  ReadingOptions reading;
  std::string larvae_file;
  std::string larvae_sheet;
  std::string design;
  std::string cut_offs_file;
  std::string json_file;
  std::string csv_file;
  std::string report_file;
  std::string letter_file;
  std::string figures_directory;
  std::string xlsx_file;
  double level_percent = 100 * AnalysisSettings::default_level;
  std::optional<std::size_t> simulations;
  bool verbose = false;
  ReportHeading heading;
  AnalysisSettings settings;
};

using LetterForm = std::string (*)(const TextDocument&);

/// As the ending of its file says; standard output, which has none, takes the page.
LetterForm letter_form(const std::string& path) {
  const std::string ending = lower_case(std::filesystem::path(path).extension().string());
  if (ending == ".docx")
    return word_document;
  if (path == "-" || ending == ".html")
    return document_page;
  refuse_file(path,
              ending.empty() ? "a letter without an ending"
                             : fmt::format("a letter with the ending {}", in_quotes(ending)),
              ".html (a page to print) or .docx (to be changed in a word processor)");
}

/// Who is named at the head of a page or letter that is not asked for would go unread.
void check_heading(const AnalyseOptions& options) {
  const ReportHeading& heading = options.heading;
  if (options.report_file.empty() && options.letter_file.empty() &&
      !given({heading.farm, heading.owner, heading.veterinarian}).empty())
    throw InputError("--farm, --owner, --veterinarian: found neither --report nor --letter; "
                     "expected one of them, at whose head these stand");
}

/// All tables' trials, with their cultures.
UnderstoodTables all_tables(const AnalyseOptions& options) {
  UnderstoodTables all = read_tables(options.tables, options.reading);
  name_apart(all.table.trials);
  if (!options.larvae_file.empty()) {
    TrialTable cultured =
        read_cultures(read_file(options.larvae_file), {options.larvae_file, options.larvae_sheet},
                      std::move(all.table.trials));
    all.table.trials = std::move(cultured.trials);
    std::ranges::move(cultured.notes, std::back_inserter(all.table.notes));
  }
  return all;
}

/// The figures of all trials, in a folder that is made if need be; of several trials each has a
/// number.
std::vector<OutputFile> figure_files(const std::vector<TrialAnalysis>& trials,
                                     const std::string& directory) {
  constexpr int png_width = 1440;
  make_directory(directory);
  std::vector<OutputFile> files;
  for (std::size_t i = 0; i < trials.size(); ++i)
    for (const NamedFigure& figure : analysis_figures(trials[i])) {
      const std::string path = fmt::format(
          "{}/{}{}", directory, trials.size() > 1 ? fmt::format("{}-", i + 1) : "", figure.name);
      files.push_back({path + ".svg", figure.svg});
      if (auto png = png_of(figure.svg, png_width))
        files.push_back({path + ".png", std::move(*png)});
    }
  return files;
}

std::string screen_text(const std::vector<TrialAnalysis>& trials, Verbosity verbosity) {
  std::string text;
  for (const TrialAnalysis& trial : trials)
    text += analysis_summary(trial, verbosity, option_names) + '\n';
  return text + paragraph(cautions());
}

/// On all cores. What cannot be analysed is told as if one trial had come after another.
std::vector<TrialAnalysis> analysed(const std::vector<Trial>& trials, const CutOffs& criteria,
                                    const AnalysisSettings& settings) {
  std::vector<TrialAnalysis> results(trials.size());
  std::vector<std::exception_ptr> failures(trials.size());
  tbb::parallel_for(std::size_t{0}, trials.size(), [&](std::size_t i) {
    try {
      results[i] = analyse(trials[i], criteria, settings);
    } catch (...) {
      failures[i] = std::current_exception();
    }
  });
  for (const std::exception_ptr& failure : failures)
    if (failure)
      std::rethrow_exception(failure);
  return results;
}

void run_analyse(const AnalyseOptions& options) {
  AnalysisSettings settings = options.settings;
  settings.level = of_percent(options.level_percent);
  if (options.design != "auto")
    settings.design = parse_design(options.design);
  check_heading(options);
  const std::vector<std::string> outputs =
      given({options.json_file, options.csv_file, options.report_file, options.letter_file,
             options.xlsx_file});
  std::vector<std::string> inputs = given({options.larvae_file, options.cut_offs_file});
  inputs.insert(inputs.end(), options.tables.begin(), options.tables.end());
  const bool on_screen = screen_is_free(outputs);
  check_outputs(outputs, inputs);
  const LetterForm letter =
      options.letter_file.empty() ? nullptr : letter_form(options.letter_file);

  const CutOffs criteria = chosen_cut_offs(options.cut_offs_file);
  const UnderstoodTables understood = all_tables(options);
  const TrialTable& table = understood.table;
  tell_reading(understood);
  const std::size_t groups = treated_groups(table.trials);
  if (groups > most_groups)
    throw InputError(fmt::format("found {} treated groups; expected at most {} (eggfall survey "
                                 "judges any number)",
                                 groups, most_groups));
  settings.simulations = options.simulations.value_or(default_simulations(groups));
  if (!options.simulations && settings.simulations == 0)
    tell_notes({fmt::format("{} treated groups: what larger trials would have shown is left out "
                            "(--simulations {} works it out)",
                            groups, AnalysisSettings().simulations)});

  const std::vector<TrialAnalysis> trials = analysed(table.trials, criteria, settings);

  std::vector<OutputFile> files;
  if (!options.json_file.empty())
    files.push_back({options.json_file, analysis_json(trials, settings)});
  if (!options.csv_file.empty())
    files.push_back({options.csv_file, analysis_csv(trials)});
  if (!options.report_file.empty())
    files.push_back({options.report_file, analysis_report(trials, settings, options.heading)});
  if (letter != nullptr)
    files.push_back({options.letter_file, letter(farmer_letters(trials, options.heading))});
  if (!options.figures_directory.empty())
    std::ranges::move(figure_files(trials, options.figures_directory), std::back_inserter(files));
  if (!options.xlsx_file.empty())
    files.push_back({options.xlsx_file, workbook_bytes(analysis_sheets(trials, settings))});
  write_files(files, inputs);
  if (on_screen)
    show(screen_text(trials, options.verbose ? Verbosity::full : Verbosity::brief));
}

} // namespace

void add_analyse(CLI::App& app, Action& action) {
  auto options = std::make_shared<AnalyseOptions>();
  CLI::App& command =
      *app.add_subcommand("analyse", "From tables of egg counts to a verdict per drench group");
  command
      .add_option("TABLE", options->tables,
                  "Counts tables, CSV, .xlsx or .ods (docs/data-format.md); - is standard input")
      ->type_name(file_value)
      ->required();
  add_reading_options(command, options->reading);
  add_units_option(command, options->settings.units_confirmed);
  command
      .add_option("--larvae", options->larvae_file,
                  "Larvae told apart in cultures, CSV, .xlsx or .ods (docs/data-format.md): judges "
                  "each worm")
      ->type_name(file_value);
  command.add_option("--larvae-sheet", options->larvae_sheet,
                     "The sheet to read of the larvae's workbook (default: the first)");
  command
      .add_option("--design", options->design,
                  "What to compare: auto, paired (before and after), two-group (with the "
                  "control after), controlled (both), baseline (with the control before)")
      ->check(CLI::IsMember({"auto", "paired", "two-group", "controlled", "baseline"}))
      ->default_str("auto");
  options->design = "auto";
  command
      .add_option("--criteria", options->settings.criteria,
                  "Criteria of the verdict shown first (default: your own file's, or "
                  "waavp-2023-clinical); eggfall cutoffs lists them")
      ->check(criteria_names());
  add_cut_offs_option(command, options->cut_offs_file);
  command
      .add_option("--level", options->level_percent,
                  fmt::format("Level of the intervals shown, percent, {}",
                              in_words(AnalysisSettings::levels_percent)))
      ->check(within(AnalysisSettings::levels_percent))
      ->capture_default_str();
  command
      .add_option(
          "--simulations", options->simulations,
          fmt::format("Simulations of each next step of an inconclusive group (default: {}, "
                      "or 0 for more than {} groups)",
                      AnalysisSettings().simulations, most_groups_simulated))
      ->check(whole_number(AnalysisSettings::most_simulations));
  command.add_option("--seed", options->settings.seed, "Seed of the simulated next steps")
      ->check(whole_number())
      ->capture_default_str();
  command
      .add_option("--json", options->json_file, "Write all results as JSON; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--csv", options->csv_file,
                  "Write one row a group and interval as CSV; - is standard output")
      ->type_name(file_value);
  CLI::Option* const report =
      command
          .add_option("--report", options->report_file,
                      "Write a page for farmer and vet, HTML with figures; - is standard output")
          ->type_name(file_value);
  command
      .add_option("--letter", options->letter_file,
                  "Write a letter to the farmer, .html to print or .docx to change; - is "
                  "standard output (HTML)")
      ->type_name(file_value);
  const auto add_heading = [&](const char* name, std::string& given, const char* where,
                               const char* what) {
    return command.add_option(name, given, fmt::format("For the head of the {}: {}", where, what));
  };
  add_heading("--farm", options->heading.farm, "page and the letter", "the farm");
  add_heading("--owner", options->heading.owner, "page and the letter", "the owner");
  add_heading("--veterinarian", options->heading.veterinarian, "page and the letter",
              "the veterinarian");
  add_heading("--laboratory", options->heading.laboratory, "page", "the laboratory")->needs(report);
  add_heading("--counting-method", options->heading.counting_method, "page",
              "how eggs were counted")
      ->needs(report);
  command
      .add_option("--figures", options->figures_directory,
                  "Write the figures of the page into this folder, as SVG and PNG")
      ->type_name(folder_value);
  command
      .add_option("--xlsx", options->xlsx_file,
                  "Write the results as an .xlsx workbook; - is standard output")
      ->type_name(file_value);
  command.add_flag("--verbose", options->verbose,
                   "Also every interval, criterion and caveat, and each animal");
  command.footer("Example: eggfall analyse counts.csv --factor 15 --host sheep");
  command.callback([options, &action] { action = [options] { run_analyse(*options); }; });
}

} // namespace eggfall::cli
