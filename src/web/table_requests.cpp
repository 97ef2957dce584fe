#include "web/table_requests.hpp"

#include "web/setting_words.hpp"

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

const std::string& file_of(Fields& fields, const std::vector<std::string>& files) {
  const auto place = fields.whole("file", 0, 1'000);
  if (!place || *place >= files.size())
    throw InputError(fmt::format("{}: found no such file; expected the place of one of the {} that "
                                 "came with the request",
                                 fields.place("file"), files.size()));
  return files[static_cast<std::size_t>(*place)];
}

TableAnswers answers_of(Fields& fields) {
  constexpr double largest = 1e6;
  TableAnswers answers;
  if (const std::string layout = fields.raw_text("layout"); !layout.empty())
    answers.layout = read_layout(layout, "layout");
  TableAnswers said;
  said.layout.factor = fields.number("factor", 0, largest);
  said.layout.factor_before = fields.number("factorBefore", 0, largest);
  said.layout.factor_after = fields.number("factorAfter", 0, largest);
  said.layout.host = fields.text("host");
  said.layout.control = fields.text("control");
  said.sheets = fields.text("sheet");
  for (Fields& setting : fields.objects("settings")) {
    take(said, {setting.text("key"), setting.text("value")});
    setting.nothing_else();
  }
  said.layout = joined(std::move(said.layout), answers.layout);
  return said;
}

UnderstoodTables read_tables(Fields& fields, const std::vector<std::string>& files) {
  std::vector<TableFile> tables;
  for (Fields& table : fields.objects("tables")) {
    std::string name = table.text("name");
    tables.push_back({name.empty() ? "table" : std::move(name), file_of(table, files)});
    table.nothing_else();
  }
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

Json lines(const std::vector<std::string>& told) {
  Json all = Json::array();
  for (const std::string& line : told)
    all.push_back(in_setting_words(line));
  return all;
}

struct AnalysisRequest {
  AnalysisSettings settings;
  CutOffs cut_offs;
  ReportHeading heading;
  std::vector<std::string> wanted;
};

AnalysisRequest settings_of(Fields& fields, std::size_t groups) {
  AnalysisRequest request;
  AnalysisSettings& settings = request.settings;
  if (const auto level = fields.number("level", 50, 99.9))
    settings.level = of_percent(*level);
  if (const auto seed = fields.whole("seed", 0, UINT64_MAX))
    settings.seed = *seed;
  if (const auto simulations = fields.whole("simulations", 0, 100'000))
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
  request.cut_offs = published_cut_offs();
  if (const std::string own = fields.raw_text("cutOffs"); !own.empty()) {
    CutOffs read = read_cut_offs(own, "your cut-offs");
    std::ranges::move(request.cut_offs.criteria, std::back_inserter(read.criteria));
    std::ranges::move(request.cut_offs.windows, std::back_inserter(read.windows));
    request.cut_offs = std::move(read);
  }
  Fields heading = fields.object("heading");
  request.heading = {heading.text("farm"), heading.text("owner"), heading.text("veterinarian"),
                     heading.text("laboratory"), heading.text("countingMethod")};
  heading.nothing_else();
  request.wanted = fields.texts("wanted");
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
         text += analysis_summary(each, Verbosity::full) + '\n';
       return text;
     }},
});

} // namespace

Reply understand(Fields& fields, const std::vector<std::string>& files, const Surroundings&) {
  const UnderstoodTables understood = read_tables(fields, files);
  const std::vector<Trial>& trials = understood.table.trials;
  CountsCells cells = counts_cells(trials);
  Reply reply;
  reply.json = {{"understood", lines(understood.all)},
                {"told", lines(understood.told)},
                {"noticed", lines(understood.table.notes)},
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
  fields.nothing_else();

  std::vector<TrialAnalysis> analyses;
  for (const Trial& trial : trials) {
    surroundings.progress(analyses.size(), trials.size());
    analyses.push_back(analyse(trial, request.cut_offs, request.settings));
  }
  surroundings.progress(trials.size(), trials.size());

  Reply reply;
  reply.json = {{"told", lines(understood.told)},
                {"noticed", lines(understood.table.notes)},
                {"groups", groups_json(trials)}};
  for (const std::string& name : request.wanted)
    if (std::ranges::find(outputs, name, &Output::name) == outputs.end())
      throw InputError(fmt::format("wanted: found {}; expected names of files that an analysis "
                                   "gives (docs/browser.md)",
                                   in_quotes(name)));
  for (const Output& output : outputs)
    if (request.wanted.empty() ||
        std::ranges::find(request.wanted, output.name) != request.wanted.end())
      reply.files.push_back(
          {std::string(output.name), output.make(trials, analyses, request, surroundings)});
  return reply;
}

} // namespace eggfall::web
