#include "eggfall/survey/survey.hpp"

#include "eggfall/survey/survey_summary.hpp"
#include "judgement/judge.hpp"
#include "support/support.hpp"
#include "survey/survey_json.hpp"
#include "survey/survey_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <functional>
#include <numeric>
#include <sstream>

using namespace eggfall;
using support::input_error;

namespace {

SurveySettings settings_by(const std::string& criteria = {}) {
  SurveySettings settings;
  settings.criteria = with_criteria_first(published_cut_offs(), criteria).criteria.front();
  settings.criteria.minima.clear();
  return settings;
}

SurveyRow row(const std::string& region, std::optional<int> year, VerdictClass verdict_class,
              DrugClass drug_class = DrugClass::bz) {
  SurveyRow result;
  result.trial = "t";
  result.group.name = "g";
  result.group.host = "sheep";
  result.group.region = region;
  result.group.year = year;
  result.group.classes = {drug_class};
  result.standing.verdict_class = verdict_class;
  result.standing.by_counts_alone = verdict_class;
  return result;
}

using enum VerdictClass;

/// Ten groups, a trial each.
std::vector<SurveyRow> ten_rows() {
  return {row("North", 2030, resistant),
          row("North", 2030, low_resistant),
          row("North", 2031, susceptible),
          row("North", 2031, inconclusive, DrugClass::ml),
          row("South", 2030, susceptible, DrugClass::ml),
          row("South", 2030, susceptible),
          row("South", 2031, not_applicable),
          row("South", 2031, inconclusive),
          row("", 2031, resistant),
          row("South, far \"end\"", std::nullopt, suspected)};
}

/// What a shard makes of them.
Survey survey_of(Shard shard, std::vector<std::vector<SurveyField>> fields = {}) {
  Survey survey = empty_survey(settings_by(), shard, std::move(fields));
  survey.tables = {{"ten.csv", "crc64:0123456789abcdef"}};
  const auto rows = ten_rows();
  survey.in_tables = {rows.size(), rows.size(), 15 * rows.size()};
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (ShardOfTrials(shard).takes(Trial{}, i + 1)) {
      add(survey, rows[i]);
      survey.surveyed.trials += 1;
      survey.surveyed.groups += 1;
      survey.surveyed.animals += 15;
    }
  return survey;
}

std::uint64_t sum(const VerdictTally& tally) {
  return std::accumulate(tally.begin(), tally.end(), std::uint64_t{0});
}

std::uint64_t count_of(const VerdictTally& tally, VerdictClass verdict_class) {
  return tally[static_cast<std::size_t>(verdict_class)];
}

Survey through_json(const Survey& survey) {
  return read_survey_json(survey_json(survey), "part.json");
}

} // namespace

TEST_CASE("Groups are told apart by every field and by several together") {
  const Survey survey =
      survey_of({}, {{SurveyField::region}, {SurveyField::region, SurveyField::year}});
  CHECK(sum(survey.all.strata.at({})) == 10);
  REQUIRE(survey.breakdowns.size() == 2);
  const auto& by_region = survey.breakdowns[0].strata;
  CHECK(by_region.size() == 4);
  CHECK(sum(by_region.at({"North"})) == 4);
  CHECK(count_of(by_region.at({"North"}), low_resistant) == 1);
  CHECK(sum(by_region.at({""})) == 1); // not given
  const auto& by_both = survey.breakdowns[1].strata;
  CHECK(sum(by_both.at({"North", "2031"})) == 2);
  CHECK_FALSE(by_both.contains({"North", "2032"}));
  for (const Breakdown& breakdown : survey.breakdowns) {
    VerdictTally all{};
    for (const auto& [stratum, tally] : breakdown.strata)
      for (std::size_t v = 0; v < verdict_classes; ++v)
        all[v] += tally[v];
    CHECK(all == survey.all.strata.at({})); // every group is in one stratum
  }
  CHECK(survey_of({}).breakdowns.size() == std::size(usual_survey_fields));
  CHECK(input_error([] {
          survey_of({}, {{SurveyField::year, SurveyField::year}});
        }) == "breakdown: found year,year; expected each field once");
  CHECK(input_error([] {
          survey_of({}, {{SurveyField::year}, {SurveyField::year}});
        }) == "breakdown: found year twice; expected each breakdown once");
}

TEST_CASE("Every trial is in one shard, and those of a farm are all in that of its first") {
  Trial of_farm;
  of_farm.groups.emplace_back().farm = "Hill";
  Trial of_none;
  of_none.groups.emplace_back();
  for (std::size_t i = 1; i <= 7; ++i) {
    ShardOfTrials shard({i, 7});
    for (std::uint64_t trial = 1; trial <= 30; ++trial) {
      const bool has_farm = trial % 5 == 0;
      const bool taken = shard.takes(has_farm ? of_farm : of_none, trial);
      CHECK(taken == (has_farm ? i == 5 : trial % 7 == i % 7));
    }
  }
  CHECK(ShardOfTrials({1, 1}).takes(Trial{}, 12));
}

TEST_CASE("A breakdown is named by its fields, joined by commas") {
  CHECK(parse_breakdown("class") == std::vector{SurveyField::drug_class});
  CHECK(parse_breakdown("region, year") == std::vector{SurveyField::region, SurveyField::year});
  CHECK(input_error([] { parse_breakdown("region,colour"); }) ==
        "breakdown: found \"colour\"; expected drench, class, host, worm, farm, region or year, or "
        "several of them joined by commas");
  CHECK_THROWS_AS(parse_breakdown(""), InputError);
}

TEST_CASE("A stratum's shares count the resistant, and what is open") {
  const Survey survey = survey_of({}, {{SurveyField::region}});
  const StratumSummary all = summarise(survey.all.strata.at({}));
  CHECK(all.tested == 10);
  CHECK(all.judged == 9);
  CHECK(*all.resistant.value == 3.0 / 9);
  CHECK(*all.at_most.value == 6.0 / 9); // two inconclusive, one suspected
  const StratumSummary none = summarise(VerdictTally{});
  CHECK(none.tested == 0);
  CHECK_FALSE(none.resistant.value);
  CHECK_FALSE(none.at_most.upper);
}

TEST_CASE("A survey's parts, written and read back in any order, join into just one run's") {
  const std::vector<std::vector<SurveyField>> fields{{SurveyField::drug_class},
                                                     {SurveyField::region, SurveyField::year}};
  const std::string expected = survey_json(survey_of({}, fields));
  CHECK(survey_json(through_json(survey_of({}, fields))) == expected);
  for (const std::size_t count : {2UL, 3UL, 14UL}) { // of 14 parts, four are empty
    std::vector<Survey> parts;
    for (std::size_t i = count; i >= 1; --i)
      parts.push_back(through_json(survey_of({i, count}, fields)));
    CHECK(survey_json(merged(parts)) == expected);
    CHECK(survey_text(merged(parts)) == survey_text(survey_of({}, fields)));
  }
}

TEST_CASE("Parts that do not make a whole survey are refused") {
  const auto message = [](const std::vector<Survey>& parts) {
    return input_error([&] { merged(parts); });
  };
  const Survey a = survey_of({1, 3});
  const Survey b = survey_of({2, 3});
  const Survey c = survey_of({3, 3});
  CHECK(message({}) == "no part to merge; expected all parts of one survey");
  CHECK(message({a, c}) == "part 2/3 is missing; expected all 3 parts");
  CHECK(message({a, b, b}) == "part 2/3 comes twice; expected each part once");
  const auto differs = [&](auto&& change) {
    Survey other = c;
    change(other);
    CHECK(message({a, b, other}) == "part 3 is of another survey than the first; expected the same "
                                    "version, tables, settings, breakdowns and number of parts");
  };
  differs([](Survey& s) { s.version = "0.0.9"; });
  differs([](Survey& s) { s.settings.priors.mean.middle_eggs = 25; });
  differs([](Survey& s) { s.settings.criteria.cut_offs.front().expected = 0.9; });
  differs([](Survey& s) { s.tables[0].name = "eleven.csv"; });
  differs([](Survey& s) { s.in_tables.animals += 1; });
  differs([](Survey& s) { s.reading.host = "goats"; });
  differs([](Survey& s) { s.breakdowns.pop_back(); });
  differs([](Survey& s) { s.shard.count = 4; });
  // Nor do settings get lost on the way through a file.
  for (const auto& change : std::vector<std::function<void(SurveySettings&)>>{
           [](SurveySettings& s) { s.units_confirmed = true; },
           [](SurveySettings& s) { s.windows = published_cut_offs().windows; },
           [](SurveySettings& s) { s.criteria.level = 0.8; }}) {
    Survey other = c;
    change(other.settings);
    CHECK_THAT(message({through_json(a), through_json(b), through_json(other)}),
               Catch::StartsWith("part 3 is of another survey than the first"));
  }
  Survey of_other_table = c;
  of_other_table.tables[0].digest = "crc64:0123456789abcde0";
  CHECK(
      message({a, b, of_other_table}) ==
      "part 3 read another table \"ten.csv\" than the first: they are of one name, but not of one "
      "content; expected parts of one survey");
  Survey short_of_one = c;
  short_of_one.surveyed.trials -= 1;
  CHECK(message({a, b, short_of_one}) ==
        "the parts have 9 trials in all; expected the 10 of the tables");
}

TEST_CASE("The JSON of a survey gives what is missing as null") {
  const auto json = nlohmann::json::parse(
      survey_json(survey_of({}, {{SurveyField::region}, {SurveyField::year}})));
  CHECK(json["schema"] == "eggfall.survey/4");
  CHECK(json["all"]["tested"] == 10);
  CHECK(json["all"]["judged"] == 9);
  CHECK(json["all"]["not_judged"] == 1);
  CHECK(json["breakdowns"][0]["strata"][0]["region"].is_null());
  CHECK(json["breakdowns"][1]["strata"][1]["year"] == 2030);
  CHECK(json["settings"]["host"].is_null());
  const auto empty =
      nlohmann::json::parse(survey_json(empty_survey(settings_by(), {}, {{SurveyField::host}})));
  CHECK(empty["all"]["tested"] == 0);
  CHECK(empty["all"]["resistant_percent"].is_null());
  CHECK(empty["breakdowns"][0]["strata"].empty());
}

TEST_CASE("What is no result of a survey is refused with one message") {
  const std::string good = survey_json(survey_of({}));
  for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
           {"eggfall.survey/4", "eggfall.survey/9"},
           {"\"of\": 1", "\"of\": 0"},
           {"\"index\": 1", "\"index\": 2"},
           {"\"resistant\": 2", "\"resistant\": 3"},
           {"\"resistant\": 2", "\"resistant\": -2"},
           {"\"resistant\": 2", "\"resistant\": 18446744073709551615"},
           {"\"groups\": 10", "\"groups\": 1e300"},
           {"\"prior_cv_ratio\": 0.5", "\"prior_cv_ratio\": \"x\""},
           {"\"year\": 2030", "\"year\": 2031"},
           {"\"year\": 2030", "\"year\": \"x\""},
           {"\"rule\": \"two-one-sided\"", "\"rule\": \"none\""},
           {"\"lower_percent\": 90.0", "\"lower_percent\": null"},
           {"\"class\"", "\"colour\""},
           {"\"surveyed\"", "\"seen\""},
           {"{", "["}}) {
    CAPTURE(from, to);
    std::string text = good;
    const auto found = text.find(from);
    REQUIRE(found != std::string::npos);
    text.replace(found, from.size(), to);
    const std::string message = input_error([&] { read_survey_json(text, "x.json"); });
    CHECK(message.starts_with("x.json: found no result of a survey ("));
    CHECK(message.ends_with("expected the JSON of a survey"));
    CHECK(std::ranges::count(message, '\n') == 0);
  }
}

TEST_CASE("The text of a survey fits 80 columns, whatever the numbers and names") {
  for (const std::string criteria : {"waavp-2023-clinical", "waavp-1992"})
    for (const std::uint64_t times : {1U, 10'000U, 1'000'000U}) {
      Survey survey = survey_of({}, {{SurveyField::region},
                                     {SurveyField::region, SurveyField::host,
                                      SurveyField::drug_class, SurveyField::year}});
      add(survey, row("a region with a name so long that no line of a screen could ever hold it, "
                      "not even by itself",
                      2030, susceptible));
      survey.settings = settings_by(criteria);
      for (Breakdown* breakdown : {&survey.all, &survey.breakdowns[0], &survey.breakdowns[1]})
        for (auto& [stratum, tally] : breakdown->strata)
          for (std::uint64_t& count : tally)
            count *= times;
      survey.surveyed.groups *= times;
      std::istringstream text(survey_text(survey));
      for (std::string line; std::getline(text, line);) {
        CAPTURE(line);
        CHECK(line.size() <= 80);
      }
    }
}

TEST_CASE("A survey's text says what its numbers are worth, and what to do") {
  const auto words = [](const Survey& survey) {
    std::string text = survey_text(survey);
    std::ranges::replace(text, '\n', ' ');
    return text;
  };
  const std::string text = words(survey_of({}));
  CHECK(text.find("no random sample") != std::string::npos);
  CHECK(text.find("An open group may be either") != std::string::npos);
  CHECK(text.find("checked against the published guideline") != std::string::npos);
  CHECK(text.find("33 of 100 groups are open: ask for more animals") != std::string::npos);
  CHECK(text.find("by worm") == std::string::npos); // no group says its worm
  CHECK(words(survey_of({2, 3})).find("This is part 2 of 3: join all parts") != std::string::npos);
  CHECK(words(empty_survey(settings_by(), {}, {})).find("no group could be judged") !=
        std::string::npos);
}

TEST_CASE("Rows are as wide as their header, and quoted where they must be") {
  const Criteria criteria = settings_by().criteria;
  const std::string header = survey_csv_header();
  const auto commas = std::ranges::count(header, ',');
  const std::string plain = survey_csv_row(row("North", std::nullopt, susceptible), criteria);
  CHECK(std::ranges::count(plain, ',') == commas);
  CHECK(plain ==
        "0,t,g,BZ,,sheep,,North,,,0,,,,,,,,,,waavp-2023-clinical,susceptible,,,susceptible,,\r\n");
  const std::string quoted = survey_csv_row(ten_rows().back(), criteria);
  CHECK(quoted.find(R"(,"South, far ""end""",)") != std::string::npos);
}
