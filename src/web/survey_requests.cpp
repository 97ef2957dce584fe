#include "web/survey_requests.hpp"

#include "web/table_fields.hpp"

#include "base/content_digest.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "eggfall/trial/trial_stream.hpp"
#include "judgement/judge.hpp"
#include "survey/course_text.hpp"
#include "survey/course_words.hpp"
#include "survey/farms_together.hpp"
#include "survey/region_picture.hpp"
#include "survey/survey_json.hpp"
#include "survey/survey_page.hpp"
#include "survey/survey_text.hpp"
#include "survey/survey_words.hpp"
#include "survey/surveyed_trials.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <string_view>
#include <utility>

namespace eggfall::web {
namespace {

Survey empty_survey_of(Fields& fields, const TableAnswers& answers) {
  SurveySettings settings;
  CutOffs cut_offs = with_criteria_first(cut_offs_of(fields), fields.text("criteria"));
  settings.criteria = std::move(cut_offs.criteria.front());
  settings.windows = std::move(cut_offs.windows);
  settings.units_confirmed = fields.yes("unitsConfirmed");
  std::vector<std::vector<SurveyField>> breakdowns;
  for (const std::string& names : fields.texts("by"))
    breakdowns.push_back(parse_breakdown(names));
  Survey survey = empty_survey(std::move(settings), {}, std::move(breakdowns));
  survey.reading = read_options(answers.layout, {});
  survey.reading.trial_name = ReadOptions().trial_name; // each table has its own
  return survey;
}

/// Reads tables, and judges and tallies each trial as it comes, so that of a large table no more is
/// held than its bytes and its rows.
class SurveyOfTables {
public:
  SurveyOfTables(Survey empty, const std::vector<TableFile>& tables, TableAnswers answers,
                 const Surroundings& surroundings)
      : survey_(std::move(empty)), answers_(std::move(answers)), surroundings_(surroundings),
        trials_(survey_.shard, tables.size() > 1) {
    for (const TableFile& table : tables)
      all_bytes_ += table.bytes.size();
  }

  void read(const TableFile& table) {
    if (table.bytes.size() <= largest_kept_by_hand)
      read_whole(table);
    else
      read_piece_by_piece(table);
    ContentDigest digest;
    digest.add(table.bytes);
    survey_.tables.push_back({normalised(table.name), digest.text()});
    bytes_ += table.bytes.size();
    surroundings_.progress(bytes_, all_bytes_);
  }

  void finish() {
    survey_.courses = courses_of(std::move(farms_), survey_.settings.priors);
    survey_.in_tables = trials_.in_tables();
    survey_.surveyed = trials_.taken();
  }

  const Survey& survey() const { return survey_; }
  const std::vector<SurveyRow>& rows() const { return rows_; }
  const std::vector<Wording>& told() const { return told_; }
  const std::vector<std::string>& noticed() const { return noticed_; }

private:
  void read_whole(const TableFile& table) {
    UnderstoodTables understood = understand_files({table}, answers_);
    std::ranges::move(understood.told, std::back_inserter(told_));
    std::ranges::move(understood.table.notes, std::back_inserter(noticed_));
    std::vector<Trial>& trials = understood.table.trials;
    for (std::size_t t = 0; t < trials.size(); ++t) {
      const double done = static_cast<double>(t) / static_cast<double>(trials.size());
      surroundings_.progress(
          bytes_ + static_cast<std::size_t>(done * static_cast<double>(table.bytes.size())),
          all_bytes_);
      add_trial(std::move(trials[t]), table);
    }
  }

  void read_piece_by_piece(const TableFile& table) {
    constexpr std::size_t piece_size = std::size_t{1} << 16U;
    TrialStream stream(Source(table.name, answers_.sheets),
                       read_options(answers_.layout, table.name));
    const std::string_view bytes = table.bytes;
    for (std::size_t position = 0; position < bytes.size(); position += piece_size) {
      for (Trial& trial : stream.feed(bytes.substr(position, piece_size)))
        add_trial(std::move(trial), table);
      surroundings_.progress(bytes_ + position, all_bytes_);
    }
    for (Trial& trial : stream.finish())
      add_trial(std::move(trial), table);
    std::ranges::copy(stream.notes(), std::back_inserter(noticed_));
  }

  void add_trial(Trial trial, const TableFile& table) {
    const auto taken = trials_.take(std::move(trial), table.name);
    if (!taken)
      return;
    for (SurveyRow& row : survey_rows(taken->trial, taken->number, survey_.settings)) {
      add(survey_, row);
      farms_.add(row);
      row.dated.counts.reset(); // the farm's years have what they need of it
      rows_.push_back(std::move(row));
    }
  }

  Survey survey_;
  TableAnswers answers_;
  const Surroundings& surroundings_;
  SurveyedTrials trials_;
  CoursesUnderWay farms_;
  std::vector<SurveyRow> rows_;
  std::vector<Wording> told_;
  std::vector<std::string> noticed_;
  std::size_t bytes_ = 0; ///< Of the tables that are read.
  std::size_t all_bytes_ = 0;
};

/// A breakdown as a table, its cells in words.
Json table_json(const Breakdown& breakdown, Rule rule) {
  const std::vector<VerdictColumn> classes = verdict_columns(rule);
  Json columns = Json::array({"tested"});
  for (const VerdictColumn& column : classes)
    columns.push_back(column.name);
  for (const char* column : {"no class", "resistant, of 100", "at most"})
    columns.push_back(column);
  Json rows = Json::array();
  for (const auto& [stratum, tally] : breakdown.strata) {
    const StratumSummary summary = summarise(tally);
    Json cells = Json::array({fmt::format("{}", summary.tested)});
    for (const VerdictColumn& column : classes)
      cells.push_back(fmt::format("{}", groups_in(column, tally)));
    cells.push_back(fmt::format("{}", summary.tested - summary.judged));
    cells.push_back(of_100_with_limits(summary.resistant));
    cells.push_back(of_100(summary.at_most));
    rows.push_back({{"name", stratum.empty() ? "all groups" : stratum_name(stratum)},
                    {"cells", std::move(cells)}});
  }
  return {{"name", breakdown.fields.empty() ? "all groups" : breakdown_name(breakdown.fields)},
          {"columns", std::move(columns)},
          {"rows", std::move(rows)}};
}

Json tables_json(const Survey& survey) {
  const Rule rule = survey.settings.criteria.rule;
  Json tables = Json::array();
  tables.push_back(table_json(survey.all, rule));
  for (const Breakdown& breakdown : survey.breakdowns)
    if (says_something(breakdown))
      tables.push_back(table_json(breakdown, rule));
  return tables;
}

Json course_json(const FarmCourse& course) {
  Json tests = Json::array();
  for (const CourseTest& test : course.tests) {
    const CourseTestWords words = course_test_words(test);
    tests.push_back({{"tested", words.tested},
                     {"fall", words.fall},
                     {"limits", words.limits},
                     {"standing", words.standing},
                     {"since_first", words.since_first},
                     {"since_last", words.since_last},
                     {"left_out", test.left_out}});
  }
  return {{"name", course_name(course.key)},
          {"word", to_string(course.word)},
          {"tests", std::move(tests)}};
}

/// Of the farms on which something has changed, lost before slipping; null where no farm was tested
/// again.
Json courses_json(const Survey& survey) {
  if (survey.courses.empty())
    return nullptr;
  constexpr std::size_t most_told = 40;
  Json told = Json::array();
  std::size_t more = 0;
  for (const CourseWord word : course_words_by_need)
    for (const FarmCourse& course : survey.courses) {
      if (course.word != word || !has_changed(course))
        continue;
      if (told.size() == most_told)
        ++more;
      else
        told.push_back(course_json(course));
    }
  return {
      {"counted", courses_counted(survey.courses)},
      {"from_the_first", std::ranges::count_if(survey.courses, &FarmCourse::lost_from_the_first)},
      {"told", std::move(told)},
      {"more", more},
      {"note", courses_note()},
      {"next", courses_next_step()}};
}

/// What is to be known before the shares are read, and which groups' numbers are in doubt.
Json beware_json(const Survey& survey) {
  Json lines = Json::array();
  for (const std::string& line :
       {barred_note(survey), kinds_note(survey.surveyed), sampling_note()})
    if (!line.empty())
      lines.push_back(line);
  return lines;
}

/// All that files are made of.
struct SurveyResult {
  const Survey& survey;
  const std::vector<SurveyRow>& rows;
  std::vector<RegionPicture> pictures;
};

std::string rows_csv(const SurveyResult& result) {
  std::string csv = survey_csv_header();
  for (const SurveyRow& row : result.rows)
    csv += survey_csv_row(row, result.survey.settings.criteria);
  return csv;
}

std::string page(const SurveyResult& result) {
  const bool shows_rows = result.rows.size() <= most_rows_on_page;
  return survey_page(result.survey, shows_rows ? result.rows : std::vector<SurveyRow>(),
                     result.pictures);
}

struct SurveyOutput {
  std::string_view name;
  std::string (*make)(const SurveyResult& result);
};

constexpr auto survey_outputs = std::to_array<SurveyOutput>({
    {"survey.json", [](const auto& result) { return survey_json(result.survey, result.pictures); }},
    {"survey.html", page},
    {"survey.txt", [](const auto& result) { return survey_text(result.survey, result.pictures); }},
    {"rows.csv", rows_csv},
    {"years.csv", [](const auto& result) { return courses_csv(result.survey.courses); }},
});

} // namespace

Reply survey_trials(Fields& fields, const std::vector<std::string>& files,
                    const Surroundings& surroundings) {
  const std::vector<TableFile> tables = tables_of(fields, files);
  TableAnswers answers = answers_of(fields);
  Survey empty = empty_survey_of(fields, answers);
  const std::vector<std::string> wanted = wanted_of(fields, survey_outputs);
  fields.nothing_else();
  if (tables.empty())
    throw InputError("tables: found none; expected one or more");

  SurveyOfTables survey(std::move(empty), tables, std::move(answers), surroundings);
  for (const TableFile& table : tables)
    survey.read(table);
  survey.finish();

  const SurveyResult result{survey.survey(), survey.rows(), pictures_of(survey.survey())};

  Reply reply;
  reply.json = {{"told", told_lines(survey.told())}, {"noticed", survey.noticed()}};
  reply.json["tables"] = tables_json(result.survey);
  reply.json["shares_note"] = shares_note(result.survey.settings.criteria.rule);
  reply.json["courses"] = courses_json(result.survey);
  reply.json["beware"] = beware_json(result.survey);
  reply.json["units_in_doubt"] =
      result.survey.barred[static_cast<std::size_t>(BarCode::units_in_doubt)];
  for (const SurveyOutput& output : survey_outputs)
    if (is_wanted(output.name, wanted))
      reply.files.push_back({std::string(output.name), output.make(result)});
  return reply;
}

} // namespace eggfall::web
