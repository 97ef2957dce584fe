#include "web/table_requests.hpp"

#include "web/setting_names.hpp"
#include "web/table_fields.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/report/analysis_text.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "formats/drawing/document_page.hpp"
#include "formats/word_document.hpp"
#include "intake/table_files.hpp"
#include "report/farmer_letter.hpp"
#include "trial/counts_table.hpp"
#include "trial/trial_time.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

namespace eggfall::web {
namespace {

UnderstoodTables read_tables(Fields& fields, const std::vector<std::string>& files) {
  const std::vector<TableFile> tables = tables_of(fields, files);
  return understand_files(tables, answers_of(fields));
}

/// What decides whether there is a verdict, and by which cut-offs; a page asks for what is missing.
Json groups_json(const std::vector<Trial>& trials) {
  Json groups = Json::array();
  for (const Trial& trial : trials)
    for (const Group& group : trial.groups) {
      Json classes = Json::array();
      for (const DrugClass drug_class : group.classes)
        classes.push_back(to_string(drug_class));
      groups.push_back({{"trial", trial.name},
                        {"name", group.name},
                        {"treated", group.role == Role::treated},
                        {"drench", group.drench},
                        {"classes", std::move(classes)},
                        {"host", group.host},
                        {"animals", group.animals.size()}});
    }
  return groups;
}

struct AnalysisRequest {
  AnalysisSettings settings;
  CutOffs cut_offs;
  ReportHeading heading;
};

AnalysisRequest settings_of(Fields& fields, std::size_t groups) {
  AnalysisRequest request;
  AnalysisSettings& settings = request.settings;
  if (const auto level = fields.number("level", AnalysisSettings::levels_percent))
    settings.level = of_percent(*level);
  if (const auto seed = fields.whole("seed", 0, UINT64_MAX))
    settings.seed = *seed;
  if (const auto simulations = fields.whole("simulations", 0, AnalysisSettings::most_simulations))
    settings.simulations = static_cast<std::size_t>(*simulations);
  else
    settings.simulations = default_simulations(groups);
  if (const std::string design = fields.text("design"); !design.empty() && design != "auto") {
    settings.design = parse_design(design);
    if (!settings.design)
      throw InputError(fmt::format("design: found {}; expected auto, paired, two-group, controlled "
                                   "or baseline",
                                   in_quotes(design)));
  }
  settings.units_confirmed = fields.yes("unitsConfirmed");
  settings.criteria = fields.text("criteria");
  request.cut_offs = cut_offs_of(fields);
  Fields heading = fields.object("heading");
  request.heading = {heading.text("farm"), heading.text("owner"), heading.text("veterinarian"),
                     heading.text("laboratory"), heading.text("countingMethod")};
  heading.nothing_else();
  return request;
}

struct Output {
  std::string_view name;
  std::string (*make)(const std::vector<Trial>& trials, const std::vector<TrialAnalysis>& analyses,
                      const AnalysisRequest& request, const Surroundings& surroundings);
};

constexpr auto outputs = std::to_array<Output>({
    {"analysis.json", [](const auto&, const auto& analyses, const auto& request,
                         const auto&) { return analysis_json(analyses, request.settings); }},
    {"report.html",
     [](const auto&, const auto& analyses, const auto& request, const auto&) {
       return analysis_report(analyses, request.settings, request.heading);
     }},
    {"letter.html",
     [](const auto&, const auto& analyses, const auto& request, const auto&) {
       return document_page(farmer_letters(analyses, request.heading));
     }},
    {"letter.docx",
     [](const auto&, const auto& analyses, const auto& request, const auto&) {
       return word_document(farmer_letters(analyses, request.heading));
     }},
    {"results.csv", [](const auto&, const auto& analyses, const auto&,
                       const auto&) { return analysis_csv(analyses); }},
    {"results.xlsx",
     [](const auto&, const auto& analyses, const auto& request, const auto& surroundings) {
       return surroundings.workbook(analysis_sheets(analyses, request.settings));
     }},
    {"counts.csv", [](const auto& trials, const auto&, const auto&,
                      const auto&) { return counts_table(trials); }},
    {"summary.txt",
     [](const auto&, const auto& analyses, const auto&, const auto&) {
       std::string text;
       for (const TrialAnalysis& each : analyses)
         text += analysis_summary(each, Verbosity::full, request_names) + '\n';
       return text;
     }},
});

} // namespace

Reply understand(Fields& fields, const std::vector<std::string>& files, const Surroundings&) {
  const UnderstoodTables understood = read_tables(fields, files);
  const std::vector<Trial>& trials = understood.table.trials;
  CountsCells cells = counts_cells(trials);
  Reply reply;
  reply.json = {{"understood", told_lines(understood.all)},
                {"told", told_lines(understood.told)},
                {"noticed", understood.table.notes},
                {"columns", cells.columns},
                {"rows", cells.rows},
                {"groups", groups_json(trials)}};
  reply.files.push_back({"counts.csv", counts_table(trials)});
  return reply;
}

Reply analyse_tables(Fields& fields, const std::vector<std::string>& files,
                     const Surroundings& surroundings) {
  UnderstoodTables understood = read_tables(fields, files);
  std::vector<Trial>& trials = understood.table.trials;
  name_apart(trials);
  // A table that was looked at and mended in a page comes in our own form: what it was taken for
  // before belongs into the report all the same.
  for (const std::string& line : fields.texts("reading"))
    for (Trial& trial : trials)
      trial.reading.push_back(line);
  if (fields.has("larvae")) {
    Fields larvae = fields.object("larvae");
    const std::string name = larvae.text("name");
    TrialTable cultured =
        read_cultures(file_of(larvae, files),
                      {name.empty() ? "larvae" : name, larvae.text("sheet")}, std::move(trials));
    larvae.nothing_else();
    trials = std::move(cultured.trials);
    std::ranges::move(cultured.notes, std::back_inserter(understood.table.notes));
  }
  const AnalysisRequest request = settings_of(fields, treated_groups(trials));
  const std::vector<std::string> wanted = wanted_of(fields, outputs);
  fields.nothing_else();

  std::vector<TrialAnalysis> analyses;
  for (const Trial& trial : trials) {
    surroundings.progress(analyses.size(), trials.size());
    analyses.push_back(analyse(trial, request.cut_offs, request.settings));
  }
  surroundings.progress(trials.size(), trials.size());

  Reply reply;
  reply.json = {{"told", told_lines(understood.told)},
                {"noticed", understood.table.notes},
                {"groups", groups_json(trials)}};
  for (const Output& output : outputs)
    if (is_wanted(output.name, wanted))
      reply.files.push_back(
          {std::string(output.name), output.make(trials, analyses, request, surroundings)});
  return reply;
}

} // namespace eggfall::web
