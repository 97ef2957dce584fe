#include "survey/survey_json.hpp"

#include "support/edge_inputs.hpp"
#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <functional>
#include <string>

using namespace eggfall;

namespace {

/// Six groups of two farms, by year and class, with every setting other than usual.
Survey invented() {
  SurveySettings settings;
  settings.criteria = published_cut_offs().criteria.front();
  settings.windows = published_cut_offs().windows;
  settings.units_confirmed = true;
  settings.priors.within_animals.scale = 0.75;
  settings.priors.mean.between_animals.scale = 1.5;
  settings.priors.mean.middle_eggs = 20;
  settings.priors.mean.cv_ratio = 0.25;
  Survey survey = empty_survey(settings, {2, 3},
                               {{SurveyField::year, SurveyField::drug_class}, {SurveyField::host}});
  survey.version = "1.2.3";
  survey.reading.factor_before = MultiplicationFactor(15);
  survey.reading.factor_after = MultiplicationFactor(16.67);
  survey.reading.host = "goats";
  survey.reading.control = "untreated";
  survey.tables = {{"a.csv", "crc64:0000000000000001"}, {"b.csv", "crc64:0000000000000002"}};
  survey.in_tables = {7, 9, 140, 2};
  survey.surveyed = {4, 6, 90, 1};
  survey.all.strata[{}] = {2, 0, 1, 0, 2, 1};
  survey.breakdowns[0].strata[{"", "BZ"}] = {1, 0, 0, 0, 0, 1};
  survey.breakdowns[0].strata[{"2031", "BZ+LV"}] = {1, 0, 1, 0, 2, 0};
  survey.breakdowns[1].strata[{"goats"}] = {2, 0, 1, 0, 2, 1};
  return survey;
}

nlohmann::json parsed() {
  return nlohmann::json::parse(survey_json(invented()));
}

} // namespace

TEST_CASE("Every setting, size and tally of a survey is read back as it was written") {
  const Survey written = invented();
  const Survey read = read_survey_json(survey_json(written), "part.json");
  CHECK(read.version == "1.2.3");
  CHECK(read.settings == written.settings);
  CHECK(read.reading == written.reading);
  CHECK(read.shard.index == 2);
  CHECK(read.shard.count == 3);
  CHECK(read.tables == written.tables);
  CHECK(read.in_tables == written.in_tables);
  CHECK(read.surveyed == written.surveyed);
  CHECK(read.all.strata == written.all.strata);
  REQUIRE(read.breakdowns.size() == 2);
  for (std::size_t b = 0; b < 2; ++b) {
    CHECK(read.breakdowns[b].fields == written.breakdowns[b].fields);
    CHECK(read.breakdowns[b].strata == written.breakdowns[b].strata);
  }
  CHECK(survey_json(read) == survey_json(written));
}

TEST_CASE("A stratum in JSON has its fields, a count of every class, and shares") {
  const auto strata = parsed()["breakdowns"][0]["strata"];
  REQUIRE(strata.size() == 2);
  CHECK(strata[0]["year"].is_null());
  const auto& of_2031 = strata[1];
  CHECK(of_2031["year"] == 2031); // A year is a number.
  CHECK(of_2031["class"] == "BZ+LV");
  CHECK(of_2031["tested"] == 4);
  CHECK(of_2031["judged"] == 4);
  CHECK(of_2031["susceptible"] == 1);
  CHECK(of_2031["low_resistant"] == 0);
  CHECK(of_2031["resistant"] == 1);
  CHECK(of_2031["suspected"] == 0);
  CHECK(of_2031["inconclusive"] == 2);
  CHECK(of_2031["not_judged"] == 0);
  CHECK(of_2031["resistant_percent"] == 25.0);
  CHECK(of_2031["at_most_percent"] == 75.0);
  CHECK(strata[0]["not_judged"] == 1);
  CHECK(strata[0]["resistant_lower_percent"] == 0.0); // None of one.
}

TEST_CASE("Settings of a survey are named in JSON, with the level of its shares") {
  const auto json = parsed();
  CHECK(json["settings"]["proportion_level"] == 0.95);
  CHECK(json["settings"]["factor_after"] == 16.67);
  CHECK(json["settings"]["control"] == "untreated");
  CHECK(json["settings"]["criteria"]["name"] == published_cut_offs().criteria.front().name);
  CHECK(json["in_tables"] ==
        nlohmann::json{
            {"trials", 7}, {"groups", 9}, {"animals", 140}, {"groups_with_eggs_apart", 2}});
}

TEST_CASE("A survey whose strata are doubled or do not add up is refused, with the reason") {
  const auto refused = [](const std::function<void(nlohmann::json&)>& change) {
    nlohmann::json json = parsed();
    change(json);
    return support::input_error([&] { read_survey_json(json.dump(), "x.json"); });
  };
  const auto because = [](const std::string& why) {
    return "x.json: found no result of a survey (" + why + "); expected the JSON of a survey";
  };
  CHECK(refused([](nlohmann::json& json) {
          auto& strata = json["breakdowns"][0]["strata"];
          strata[1]["year"] = nullptr;
          strata[1]["class"] = "BZ";
        }) == because("a stratum twice"));
  CHECK(refused([](nlohmann::json& json) { json["breakdowns"][1]["strata"].clear(); }) ==
        because("strata that do not add up"));
  CHECK(refused([](nlohmann::json& json) { json["all"]["susceptible"] = 1; }) ==
        because("strata that do not add up"));
  CHECK(refused([](nlohmann::json& json) { json["shard"]["index"] = 0; }) ==
        because("an impossible part"));
  CHECK(refused([](nlohmann::json& json) { json["schema"] = "eggfall.analysis/2"; }) ==
        because("another schema"));
  CHECK(refused([](nlohmann::json& json) { json["schema"] = "eggfall.survey/1"; }) ==
        because("of an earlier version, which worked out or kept less; survey the tables again"));
  CHECK(refused([](nlohmann::json& json) { json["tables"][0] = "a.csv"; }) ==
        because("a part of it is missing, or not of its kind"));
  CHECK(refused([](nlohmann::json& json) { json["tables"] = "a.csv"; }) ==
        because("a part of it is missing, or not of its kind"));
  CHECK(support::input_error([] { read_survey_json("", "x.json"); }).find("not JSON") !=
        std::string::npos);
}

TEST_CASE("The years of farms are read back as they were written") {
  Survey survey = invented();
  FarmCourse course;
  course.key = {"Hill", "white drench", "sheep", ""};
  course.word = CourseWord::slipping;
  CourseTest first;
  first.trial_number = 3;
  first.trial = "Hill";
  first.group = "white";
  first.year = 2030;
  first.standing = VerdictClass::susceptible;
  CourseTest second = first;
  second.day = "2031-05-03";
  second.reduction = 0.925;
  second.lower = 0.5;
  second.upper = 1;
  second.since_first = EfficacyDrop{0.97, 0.75};
  second.since_last = EfficacyDrop{0.5, 0.25};
  CourseTest third = first;
  third.left_out = "day";
  course.tests = {first, second, third};
  survey.courses = {course};
  const std::string json = survey_json(survey);
  const Survey again = read_survey_json(json, "x.json");
  CHECK(again.courses == survey.courses);
  CHECK(survey_json(again) == json);

  const auto refused = [&](const std::string& from, const std::string& to) {
    std::string text = json;
    text.replace(text.find(from), from.size(), to);
    return support::input_error([&] { read_survey_json(text, "x.json"); });
  };
  CHECK(refused("\"slipping\"", "\"fading\"").find("the unknown name \"fading\"") !=
        std::string::npos);
  CHECK(refused("97.0", "197.0").find("out of range") != std::string::npos);
  CHECK(refused("\"year\": 2030", "\"year\": -1").find("not a whole number") != std::string::npos);
}

TEST_CASE("Edge inputs are no JSON of a survey") {
  support::check_edge_inputs_refused(
      "s.json", [](const std::string& bytes) { read_survey_json(bytes, "s.json"); });
}
