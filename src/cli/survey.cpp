#include "cli/chosen_cut_offs.hpp"
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/input_file.hpp"
#include "cli/progress.hpp"
#include "cli/reading_options.hpp"
#include "cli/screen.hpp"
#include "cli/staged_file.hpp"
#include "cli/trial_source.hpp"
#include "cli/values.hpp"
#include "cli/work_options.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/survey/survey.hpp"
#include "judgement/judge.hpp"
#include "survey/course_text.hpp"
#include "survey/farms_together.hpp"
#include "survey/region_picture.hpp"
#include "survey/survey_json.hpp"
#include "survey/survey_page.hpp"
#include "survey/survey_text.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/parallel_pipeline.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace eggfall::cli {
namespace {

struct SurveyOptions {
  std::vector<std::string> tables;
  ReadingOptions reading;
  std::string criteria;
  std::string cut_offs_file;
  std::vector<std::string> breakdowns;
  WorkOptions work;
  std::vector<std::string> parts;
  std::string json_file;
  std::string csv_file;
  std::string years_file;
  std::string report_file;
  SurveySettings settings;
};

Survey survey_asked_for(const SurveyOptions& options) {
  SurveySettings settings = options.settings;
  CutOffs cut_offs = with_criteria_first(chosen_cut_offs(options.cut_offs_file), options.criteria);
  settings.criteria = std::move(cut_offs.criteria.front());
  settings.windows = std::move(cut_offs.windows);
  std::vector<std::vector<SurveyField>> breakdowns;
  for (const std::string& fields : options.breakdowns)
    breakdowns.push_back(parse_breakdown(fields));
  Survey survey =
      empty_survey(std::move(settings), parse_shard(options.work.shard), std::move(breakdowns));
  survey.reading = read_options(options.reading, {}, "-");
  return survey;
}

/// Before hours of work. A pipe must not be opened twice.
void check_tables(const std::vector<std::string>& tables) {
  for (const std::string& table : tables) {
    std::error_code ignored;
    const auto status = std::filesystem::status(table, ignored);
    if (table != "-" &&
        (!std::filesystem::exists(status) || std::filesystem::is_regular_file(status) ||
         std::filesystem::is_directory(status)))
      const InputFile opens(table);
  }
}

/// Of all tables; nothing if that is not known beforehand.
std::optional<std::size_t> total_size(const std::vector<std::string>& tables) {
  std::size_t bytes = 0;
  for (const std::string& table : tables) {
    const auto size = size_of(table);
    if (!size)
      return std::nullopt;
    bytes += *size;
  }
  return bytes;
}

/// A batch on its way from the tables to the rows.
struct Token {
  TrialBatch batch;
  std::vector<SurveyRow> rows;
  std::string csv;
};

/// The tokens between reading and writing, first read first. They are owned here, since a pipeline
/// that an error ends forgets what is on its way in it.
class TokensUnderWay {
public:
  Token* add(TrialBatch batch) {
    const std::lock_guard lock(mutex_);
    tokens_.push_back({std::move(batch), {}, {}});
    return &tokens_.back();
  }

  /// The first of all is done with.
  void remove_first() {
    const std::lock_guard lock(mutex_);
    tokens_.pop_front();
  }

private:
  std::mutex mutex_;
  std::list<Token> tokens_; ///< Whose places stay while others come and go.
};

/// The rows of a survey as long as a page can show them all; of a larger one it lets go of them, so
/// that memory does not grow with the tables.
class RowsForPage {
public:
  void add(const SurveyRow& row) {
    if (too_many_)
      return;
    too_many_ = rows_.size() == most_rows_on_page;
    if (too_many_) {
      rows_ = {};
      return;
    }
    rows_.push_back(row);
    rows_.back().dated.counts.reset(); // no page looks at them
  }

  const std::vector<SurveyRow>& rows() const { return rows_; }

private:
  std::vector<SurveyRow> rows_;
  bool too_many_ = false;
};

/// A ForEachIndex on all cores.
void on_all_cores(std::size_t count, const std::function<void(std::size_t)>& step) {
  tbb::parallel_for(std::size_t{0}, count, step);
}

std::vector<RegionPicture> pictures_within(std::size_t threads, const Survey& survey) {
  const ThreadLimit limit(threads);
  return pictures_of(survey, on_all_cores);
}

/// Reads, judges and tallies all trials of the survey's shard, with rows to `csv` and `for_page` in
/// the tables' order. Memory is bounded by the batches under way, but for the counts of farms,
/// which are kept until all years of a farm are there.
void survey_tables(Survey& survey, const SurveyOptions& options, std::optional<StagedFile>& csv,
                   RowsForPage& for_page) {
  TrialSource source(options.tables, options.reading, survey.shard);
  const auto bytes = total_size(options.tables);
  const auto progress =
      bytes ? std::make_unique<Progress>(*bytes) : std::make_unique<Progress>("trials");
  TokensUnderWay under_way;
  CoursesUnderWay farms;
  const auto read = [&](tbb::flow_control& flow) -> Token* {
    auto batch = source.next();
    if (!batch) {
      flow.stop();
      return nullptr;
    }
    return under_way.add(std::move(*batch));
  };
  const auto judge_trials = [&](Token* token) {
    for (const NumberedTrial& numbered : token->batch.trials)
      for (SurveyRow& row : survey_rows(numbered.trial, numbered.number, survey.settings)) {
        if (csv)
          token->csv += survey_csv_row(row, survey.settings.criteria);
        token->rows.push_back(std::move(row));
      }
    return token;
  };
  const auto write = [&](const Token* token) {
    for (const SurveyRow& row : token->rows) {
      add(survey, row);
      farms.add(row);
      for_page.add(row);
    }
    if (csv)
      csv->append(token->csv);
    progress->step(bytes ? token->batch.bytes : token->batch.trials.size());
    under_way.remove_first(); // written in the order of reading, so it is this one
  };
  const std::size_t tokens =
      4 * tbb::global_control::active_value(tbb::global_control::max_allowed_parallelism);
  using tbb::filter_mode;
  tbb::parallel_pipeline(tokens,
                         tbb::make_filter<void, Token*>(filter_mode::serial_in_order, read) &
                             tbb::make_filter<Token*, Token*>(filter_mode::parallel, judge_trials) &
                             tbb::make_filter<Token*, void>(filter_mode::serial_in_order, write));
  survey.courses = courses_of(std::move(farms), survey.settings.priors, on_all_cores);
  survey.tables = source.tables_read();
  survey.in_tables = source.surveyed().in_tables();
  survey.surveyed = source.surveyed().taken();
  tell_notes(source.notes());
}

/// A page of a part would show the shares of a part as if they were the survey's.
void check_page_is_of_all(const SurveyOptions& options) {
  if (!options.report_file.empty() && parse_shard(options.work.shard).count > 1)
    throw InputError(
        fmt::format("--report: found it beside --shard {}; expected a page of the whole "
                    "survey: write each part with --json FILE, then eggfall survey "
                    "--merge with all of them and --report",
                    options.work.shard));
}

/// Of a part's JSON, in bytes.
constexpr std::size_t largest_survey_part = std::size_t{1} << 30U;

Survey merged_surveys(const std::vector<std::string>& paths) {
  std::vector<Survey> parts;
  for (const std::string& path : paths)
    parts.push_back(read_survey_json(read_file(path, largest_survey_part), path));
  return merged(parts);
}

void run_survey(const SurveyOptions& options) {
  if (options.tables.empty() == options.parts.empty())
    throw InputError("found no table; expected TABLE, or --merge with the parts of a survey");
  check_page_is_of_all(options);
  const bool on_screen = screen_is_free(
      {options.json_file, options.csv_file, options.years_file, options.report_file});
  const std::vector<std::string> outputs =
      given({options.csv_file, options.years_file, options.report_file, options.json_file});
  std::vector<std::string> inputs = given({options.cut_offs_file});
  inputs.insert(inputs.end(), options.tables.begin(), options.tables.end());
  inputs.insert(inputs.end(), options.parts.begin(), options.parts.end());
  check_outputs(outputs, inputs);
  check_tables(options.tables);

  std::optional<StagedFile> csv;
  RowsForPage for_page;
  Survey survey;
  if (options.parts.empty()) {
    survey = survey_asked_for(options);
    if (!options.csv_file.empty()) {
      csv.emplace(options.csv_file);
      csv->append(survey_csv_header());
    }
    const ThreadLimit limit(options.work.threads);
    survey_tables(survey, options, csv, for_page);
  } else {
    survey = merged_surveys(options.parts);
  }
  const std::vector<RegionPicture> pictures = survey.shard.count == 1
                                                  ? pictures_within(options.work.threads, survey)
                                                  : std::vector<RegionPicture>();
  std::vector<StagedFile> files;
  if (csv)
    files.push_back(std::move(*csv));
  if (!options.years_file.empty())
    files.emplace_back(options.years_file).append(courses_csv(survey.courses));
  if (!options.report_file.empty())
    files.emplace_back(options.report_file).append(survey_page(survey, for_page.rows(), pictures));
  if (!options.json_file.empty())
    files.emplace_back(options.json_file).append(survey_json(survey, pictures));
  commit(files);
  if (on_screen)
    show(survey_text(survey, pictures));
}

} // namespace

void add_survey(CLI::App& app, Action& action) {
  auto options = std::make_shared<SurveyOptions>();
  CLI::App& command = *app.add_subcommand(
      "survey", "Many trials together: groups tested and resistant, by class, region, year");
  command
      .add_option("TABLE", options->tables,
                  "Counts tables of any length, the rows of a trial together (docs/survey.md); - "
                  "is standard "
                  "input")
      ->type_name(file_value);
  add_reading_options(command, options->reading);
  add_criteria_option(command, options->criteria);
  add_cut_offs_option(command, options->cut_offs_file);
  command
      .add_option("--by", options->breakdowns,
                  "What to tell groups apart by: drench, class, host, worm, farm, region, year, or "
                  "several joined by commas; may be given more than once (default: by class, host, "
                  "worm, region and year, each alone)")
      ->check(survey_fields())
      ->allow_extra_args(false);
  add_units_option(command, options->settings.units_confirmed);
  add_work_options(command, options->work);
  command
      .add_option("--csv", options->csv_file,
                  "Write one row a group as CSV, for a forest plot; - is standard output")
      ->type_name(file_value);
  add_merge_option(command, options->parts); // parts hold no rows, so --csv is excluded too
  command
      .add_option("--years", options->years_file,
                  "Write the years of each farm's drenches as CSV, one row a test; - is standard "
                  "output")
      ->type_name(file_value);
  command
      .add_option("--json", options->json_file,
                  "Write tallies and shares as JSON; - is standard output")
      ->type_name(file_value);
  command
      .add_option("--report", options->report_file,
                  "Write the survey as an HTML page with figures, to read or print; - is standard "
                  "output")
      ->type_name(file_value);
  command.footer("Example: eggfall survey region.csv --by region,year --csv rows.csv");
  command.callback([options, &action] { action = [options] { run_survey(*options); }; });
}

} // namespace eggfall::cli
