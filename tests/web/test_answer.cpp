#include "web/answer.hpp"

#include "support/invented_region.hpp"
#include "support/support.hpp"

#include "eggfall/base/version.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "formats/drawing/document_page.hpp"
#include "formats/json_values.hpp"
#include "formats/word_document.hpp"
#include "judgement/judge.hpp"
#include "report/farmer_letter.hpp"
#include "survey/farms_together.hpp"
#include "survey/region_picture.hpp"
#include "survey/survey_json.hpp"
#include "survey/survey_page.hpp"
#include "survey/survey_text.hpp"

#include <fmt/format.h>

#include <map>

using namespace eggfall;
using namespace eggfall::web;
using Catch::Matchers::Contains;
using Catch::Matchers::Equals;

namespace {

constexpr const char* counts = "group,animal,class,host,eggs_before,eggs_after\n"
                               "white,1,BZ,sheep,30,3\nwhite,2,BZ,sheep,12,0\n"
                               "white,3,BZ,sheep,25,4\nwhite,4,BZ,sheep,9,0\n";

struct Replied {
  Json json;
  std::map<std::string, std::string> files;
};

Replied ask(const Json& request, const std::vector<std::string>& files = {}) {
  const Surroundings surroundings{[](const std::vector<ResultSheet>& sheets) {
                                    return "workbook of " + std::to_string(sheets.size());
                                  },
                                  [](std::size_t, std::size_t) {}};
  const Frames frames = answer({request.dump(), files}, surroundings);
  Replied reply{Json::parse(frames.json), {}};
  if (reply.json.contains("files"))
    for (std::size_t i = 0; i < frames.files.size(); ++i)
      reply.files[reply.json.at("files").at(i)] = frames.files[i];
  return reply;
}

Json of_table(const std::string& request, const char* more = "{}") {
  Json json = {{"request", request}, {"tables", {{{"name", "flock.csv"}, {"file", 0}}}}};
  json.update(Json::parse(more));
  return json;
}

std::string problem(const Replied& reply) {
  REQUIRE_FALSE(reply.json.at("ok").get<bool>());
  return reply.json.at("problems").at(0).at("message");
}

} // namespace

TEST_CASE("A page's analysis is the library's, file by file") {
  const Replied reply =
      ask(of_table("analyse", R"({"factor": 50, "simulations": 10, "seed": 3})"), {counts});
  REQUIRE(reply.json.at("ok").get<bool>());
  ReadOptions how;
  how.factor_before = how.factor_after = MultiplicationFactor(50);
  how.trial_name = "flock";
  AnalysisSettings settings;
  settings.simulations = 10;
  settings.seed = 3;
  const std::vector<TrialAnalysis> analyses{analyse(
      read_trials(counts, "flock.csv", how).trials.front(), published_cut_offs(), settings)};
  CHECK(reply.files.at("analysis.json") == analysis_json(analyses, settings));
  CHECK(reply.files.at("report.html") == analysis_report(analyses, settings));
  CHECK(reply.files.at("letter.html") == document_page(farmer_letters(analyses)));
  CHECK(reply.files.at("letter.docx") == word_document(farmer_letters(analyses)));
  CHECK(reply.files.at("results.xlsx") == "workbook of 6");
  CHECK_THAT(reply.files.at("summary.txt"), Contains("white"));
  CHECK_THAT(reply.files.at("results.csv"), Contains("guarded-posterior"));
  CHECK_THAT(reply.files.at("counts.csv"), Contains("eggs_before"));
}

TEST_CASE("Only the files that are wanted are made") {
  const Replied reply =
      ask(of_table("analyse", R"({"factor": 50, "simulations": 0, "wanted": ["report.html"]})"),
          {counts});
  CHECK(reply.files.size() == 1);
  CHECK(reply.files.contains("report.html"));
  CHECK_THAT(
      problem(ask(of_table("analyse", R"({"factor": 50, "wanted": ["report.pdf"]})"), {counts})),
      Contains("found \"report.pdf\""));
}

TEST_CASE("The head of the report and what its table was taken for come from the page") {
  const Replied reply =
      ask(of_table("analyse", R"({"factor": 50, "simulations": 0, "heading": {"farm": "Far <Hill>"},
                              "reading": ["2 cells mended by hand"]})"),
          {counts});
  CHECK_THAT(reply.files.at("report.html"), Contains("Far &lt;Hill&gt;"));
  CHECK_THAT(reply.files.at("letter.html"), Contains("Far &lt;Hill&gt;"));
  CHECK_THAT(reply.files.at("report.html"), Contains("2 cells mended by hand"));
}

TEST_CASE("Own cut-offs are read, and told of by a name of their own") {
  Json request = of_table("analyse", R"({"factor": 50, "simulations": 0})");
  request["cutOffs"] = "no toml [";
  CHECK_THAT(problem(ask(request, {counts})), Contains("your cut-offs"));
}

TEST_CASE("A table that lacks the factor alone says so by its kind") {
  const Replied reply = ask(of_table("analyse"), {counts});
  CHECK(reply.json.at("kind") == "factor");
  CHECK(reply.json.at("problems").at(0).at("source") == "flock.csv");
  CHECK(reply.json.at("problems").at(0).at("line") == 2);
  CHECK(reply.json.at("problems").at(0).at("column_name") == "eggs_before");
}

TEST_CASE("An open question comes with its answers, and an answer is taken") {
  Json request = of_table("understand", R"({"factor": 50})");
  const Replied asked = ask(request, {"Tag,Mob,Treated on,EPG pre,EPG post\n1,W,3/5/2031,450,0\n"
                                      "2,W,3/5/2031,300,50\n"});
  REQUIRE(asked.json.at("kind") == "question");
  const Json& answers = asked.json.at("answers");
  REQUIRE(answers.size() == 2);
  CHECK(answers.at(0).at("settings").at(0) == Json{{"key", "dates"}, {"value", "day-first"}});
  request["settings"] = answers.at(0).at("settings");
  const Replied answered = ask(request, {"Tag,Mob,Treated on,EPG pre,EPG post\n1,W,3/5/2031,450,0\n"
                                         "2,W,3/5/2031,300,50\n"});
  REQUIRE(answered.json.at("ok").get<bool>());
  CHECK_THAT(answered.files.at("counts.csv"), Contains("2031-05-03"));
}

TEST_CASE("What was understood comes with the table and its groups") {
  const Replied reply =
      ask(of_table("understand"),
          {"Lambs\nTag,Mob,EPG pre,EPG post,factor\n101,W,450,0,50\n102,W,300,50,50\n"});
  REQUIRE(reply.json.at("ok").get<bool>());
  CHECK_FALSE(reply.json.at("understood").empty());
  CHECK(reply.json.at("rows").size() == 2);
  CHECK(reply.json.at("rows").at(0).size() == reply.json.at("columns").size());
  const Json& group = reply.json.at("groups").at(0);
  CHECK(group.at("trial") == "flock");
  CHECK(group.at("name") == "W");
  CHECK(group.at("treated") == true);
  CHECK(group.at("classes").empty());
  CHECK(group.at("host") == "");
  CHECK(group.at("animals") == 2);
}

TEST_CASE("Larvae of a second file judge each worm") {
  const std::string counted = "group,animal,eggs_before,eggs_after\nwhite,1,30,3\nwhite,2,12,0\n";
  const std::string larvae = "group,time,worm,larvae\nwhite,before,haemonchus,60\n"
                             "white,before,trichostrongylus,40\nwhite,after,haemonchus,50\n";
  const Replied reply = ask(of_table("analyse", R"({"factor": 50, "simulations": 0,
                                                   "larvae": {"name": "larvae.csv", "file": 1}})"),
                            {counted, larvae});
  INFO(reply.json.dump(1));
  REQUIRE(reply.json.at("ok").get<bool>());
  CHECK_THAT(reply.files.at("analysis.json"), Contains("\"haemonchus\""));
}

TEST_CASE("A plan, its sheets and its counting method are asked for by name") {
  const Replied plan = ask({{"request", "plan"},
                            {"meanEpg", 400},
                            {"classes", {"BZ"}},
                            {"animals", {6}},
                            {"trials", 20}});
  REQUIRE(plan.json.at("ok").get<bool>());
  CHECK_THAT(plan.files.at("plan.html"), Contains("<html"));
  CHECK(Json::parse(plan.files.at("plan.json")).at("schema") == "eggfall.plan/1");
  CHECK_THAT(problem(ask({{"request", "plan"}})), Contains("meanEpg: found nothing"));
  CHECK_THAT(problem(ask({{"request", "plan"}, {"meanEpg", 400}, {"classes", {"XX"}}})),
             Contains("classes: found \"XX\""));

  const Json groups = Json::parse(R"([{"name": "white", "classes": "BZ", "labelMlPerKg": 0.2},
                                      {"name": "none", "untreated": true}])");
  const Replied sheets = ask({{"request", "sheets"}, {"groups", groups}, {"listed", true}},
                             {"animal,weight_kg\n1,40\n2,40\n3,40\n4,40\n"});
  INFO(sheets.json.dump());
  REQUIRE(sheets.json.at("ok").get<bool>());
  CHECK_THAT(sheets.files.at("sheets.html"), Contains(">8<span>.0</span>"));
  CHECK_THAT(sheets.files.at("counts.csv"), Contains("none"));
  Json both = groups;
  both[0]["labelMgPerKg"] = 5;
  both[0]["strengthMgPerMl"] = 25;
  CHECK_THAT(problem(ask({{"request", "sheets"}, {"groups", both}, {"animals", 5}})),
             Contains("found two dose rates for \"white\""));

  // 45 mL with 3 g in it, 1 mL counted: 15 EPG an egg; -ln(0.05) x 15 = 44.936,
  // to three decimals.
  const Replied factor = ask({{"request", "factor"},
                              {"faecesG", 3},
                              {"totalMl", 45},
                              {"chambers", 2},
                              {"chamberMl", 0.5},
                              {"wanted", 30}});
  REQUIRE(factor.json.at("ok").get<bool>());
  CHECK(factor.json.at("factor") == 15);
  CHECK(factor.json.at("counted_ml") == 1);
  CHECK(factor.json.at("most_unseen_epg").get<double>() == Approx(44.936).margin(0.001));
  CHECK(factor.json.at("volume_to_count_ml") == 0.5);
  CHECK(factor.json.at("chambers_to_count") == 1);
}

TEST_CASE("A lesson's trial is that of the program, by its seed") {
  const Replied one = ask({{"request", "simulate"}, {"lesson", "few-eggs"}, {"seed", 5}});
  REQUIRE(one.json.at("ok").get<bool>());
  CHECK(one.files.at("counts.csv") ==
        ask({{"request", "simulate"}, {"lesson", "few-eggs"}, {"seed", 5}}).files.at("counts.csv"));
  CHECK(one.files.at("counts.csv") !=
        ask({{"request", "simulate"}, {"lesson", "few-eggs"}, {"seed", 6}}).files.at("counts.csv"));
  CHECK(Json::parse(one.files.at("truth.json")).contains("schema"));
  CHECK_FALSE(one.json.at("ask").get<std::string>().empty());
  CHECK_THAT(problem(ask({{"request", "simulate"}, {"lesson", "none-such"}})),
             Contains("few-eggs"));
}

namespace {

std::string region(std::size_t first, std::size_t last, std::size_t animals) {
  const InventedRegion invented(2, animals, 7);
  std::string table = InventedRegion::header();
  for (std::size_t farm = first; farm <= last; ++farm)
    table += invented.farm(farm);
  return table;
}

Json of_two_tables(const char* more = "{}") {
  Json json = {
      {"request", "survey"},
      {"tables", {{{"name", "one.csv"}, {"file", 0}}, {{"name", "two.csv"}, {"file", 1}}}}};
  json.update(Json::parse(more));
  return json;
}

} // namespace

TEST_CASE("A page's survey of several tables is the library's, trial after trial") {
  const std::vector<std::string> tables{region(1, 3, 10), region(4, 5, 10)};
  const Replied reply = ask(of_two_tables(R"({"by": ["class", "region,year"]})"), tables);
  REQUIRE(reply.json.at("ok").get<bool>());

  SurveySettings settings;
  CutOffs cut_offs = with_criteria_first(published_cut_offs(), {});
  settings.criteria = cut_offs.criteria.front();
  settings.windows = cut_offs.windows;
  Survey survey =
      empty_survey(std::move(settings), {},
                   {{SurveyField::drug_class}, {SurveyField::region, SurveyField::year}});
  std::string csv = survey_csv_header();
  std::vector<SurveyRow> rows;
  std::uint64_t number = 0;
  for (const std::string& table : tables)
    for (const Trial& trial : read_trials(table, Source("x"), {}).trials) {
      add(survey.in_tables, trial);
      for (const SurveyRow& row : survey_rows(trial, ++number, survey.settings)) {
        add(survey, row);
        csv += survey_csv_row(row, survey.settings.criteria);
        rows.push_back(row);
      }
    }
  survey.surveyed = survey.in_tables;
  CHECK(survey.surveyed.groups == 10);
  CHECK(reply.files.at("rows.csv") == csv);
  const std::vector<RegionPicture> pictures = pictures_of(survey);
  CHECK(reply.files.at("survey.txt") == survey_text(survey, pictures));
  Survey told = read_survey_json(reply.files.at("survey.json"), "survey.json");
  REQUIRE(told.tables.size() == 2);
  CHECK(told.tables.at(1).name == "two.csv");
  survey.tables = told.tables;
  CHECK(reply.files.at("survey.json") == survey_json(survey, pictures));
  CHECK(reply.files.at("survey.html") == survey_page(survey, rows, pictures));
}

TEST_CASE("A page's survey works out the years of farms") {
  // Of six animals, and of numbers that do not look like EPG, so that nothing bars a class.
  std::string table =
      "farm,trial,year,group,class,drench,host,animal,eggs_before,eggs_after,factor\n";
  for (const auto& [year, after] : {std::pair{"2030", "0"}, {"2031", "23"}}) {
    int animal = 0;
    for (const char* before : {"41", "63", "52", "37", "46", "58"})
      table += fmt::format("Hill,Hill,{},white,BZ,albendazole,sheep,{},{},{},50\n", year, ++animal,
                           before, after);
  }
  const Replied reply = ask(of_table("survey"), {table});
  REQUIRE(reply.json.at("ok").get<bool>());
  const Json survey = Json::parse(reply.files.at("survey.json"));
  REQUIRE(survey.at("courses").size() == 1);
  CHECK(survey.at("courses").at(0).at("word") == "lost");
  // In words, as the screen has them: it worked in 2030, so it has changed.
  const Json& years = reply.json.at("courses");
  REQUIRE(years.at("told").size() == 1);
  CHECK(years.at("told").at(0).at("name") == "Hill, albendazole, sheep");
  CHECK(years.at("told").at(0).at("tests").at(1).at("since_first") == "over 99");
  CHECK(years.at("more") == 0);
  const Json& all = reply.json.at("tables").at(0);
  CHECK(all.at("columns").size() == 8);
  CHECK(all.at("rows").at(0).at("cells").at(0) == "2");
  CHECK_THAT(reply.json.at("beware").back().get<std::string>(), Contains("no random sample"));
  CHECK_THAT(reply.files.at("years.csv"), Contains("Hill,albendazole,sheep,,lost,"));
}

TEST_CASE("A page's survey reads a table too large for a person piece by piece, to the same end") {
  // 1.2 MB, and the same trials as two tables that are read whole.
  const std::string large = region(1, 18, 600);
  REQUIRE(large.size() > (1U << 20U));
  const Replied whole = ask(of_table("survey", R"({"wanted": ["rows.csv"]})"), {large});
  REQUIRE(whole.json.at("ok").get<bool>());
  const Replied parts =
      ask(of_two_tables(R"({"wanted": ["rows.csv"]})"), {region(1, 9, 600), region(10, 18, 600)});
  REQUIRE(parts.json.at("ok").get<bool>());
  CHECK(whole.files.size() == 1);
  CHECK(whole.files.at("rows.csv") == parts.files.at("rows.csv"));
}

TEST_CASE("A page's survey refuses what is amiss, with the names of its settings") {
  const std::string table = region(1, 1, 10);
  CHECK_THAT(problem(ask(of_two_tables(), {table, table})),
             Contains("two.csv") && Contains("\"farm 1\" again"));
  CHECK_THAT(problem(ask(of_table("survey", R"({"by": ["colour"]})"), {table})),
             Contains("by: found \"colour\""));
  CHECK_THAT(problem(ask(of_table("survey", R"({"wanted": ["report.html"]})"), {table})),
             Contains("found \"report.html\""));
  CHECK_THAT(problem(ask({{"request", "survey"}})), Contains("found none"));
  const Replied factor = ask(of_table("survey"), {counts});
  CHECK(factor.json.at("kind") == "factor");
}

TEST_CASE("Forms are told of every class, criterion and lesson") {
  const Replied reply = ask({{"request", "choices"}});
  REQUIRE(reply.json.at("ok").get<bool>());
  CHECK(reply.json.at("version") == version());
  CHECK(reply.json.at("classes").size() == all_drug_classes.size());
  CHECK(reply.json.at("criteria").size() == published_cut_offs().criteria.size());
  CHECK(reply.json.at("lessons").size() == 11);
  CHECK_THAT(reply.json.at("ink_properties").get<std::string>(), Contains("--paper"));
}

TEST_CASE("What a form says may be typed is what a plan takes") {
  const Json ranges = ask({{"request", "choices"}}).json.at("ranges");
  for (const std::string name :
       {"meanEpg", "k", "withinCv", "seasonChange", "power", "available"}) {
    CAPTURE(name);
    Json wish = {{"request", "plan"}, {"meanEpg", 300}};
    wish[name] = 2 * ranges.at(name).at("most").get<double>();
    CHECK_THAT(problem(ask(wish)), Catch::StartsWith(name + ": found "));
    CHECK_THAT(problem(ask(wish)), Contains("expected a"));
  }
  CHECK(ranges.at("level").at("least") == 50);
  CHECK(ranges.at("level").at("most") == 99.9);
}

TEST_CASE("A request that is none is refused") {
  const Surroundings none{[](const auto&) { return std::string(); },
                          [](std::size_t, std::size_t) {}};
  const auto refusal = [&](const std::string& json) {
    return Json::parse(answer({json, {}}, none).json)
        .at("problems")
        .at(0)
        .at("message")
        .get<std::string>();
  };
  CHECK_THAT(refusal("{"), Contains("no JSON"));
  CHECK(refusal(R"({"request": 1e400})") ==
        "request: found a number too large to be held; expected one below 1e308");
  CHECK_THAT(refusal("[]"), Contains("expected an object"));
  CHECK_THAT(refusal(R"({"request": "cook"})"),
             Contains("found \"cook\"; expected one of understand"));
  CHECK_THAT(refusal(R"({"request": "choices", "more": 1})"), Contains("found the name \"more\""));
  CHECK_THAT(refusal(R"({"request": "understand", "tables": [{"name": "x", "file": 3}]})"),
             Contains("found no such file"));
  CHECK_THAT(refusal(R"({"request": "understand"})"), Contains("found no table"));
}
