#include "survey/survey_json.hpp"

#include "base/six_digits.hpp"
#include "base/text.hpp"
#include "eggfall/survey/survey_summary.hpp"
#include "judgement/criteria_json.hpp"
#include "statistics/trial_likelihood.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view survey_schema = "eggfall.survey/4";
/// Older parts cannot be added up with these: version 1 kept no digest of the tables, versions 1
/// and 2 had limits that hung on a seed, and version 3 knew no farms.
constexpr std::array<std::string_view, 3> schemas_before{"eggfall.survey/1", "eggfall.survey/2",
                                                         "eggfall.survey/3"};
/// The most trials, groups or animals of a part, so that sums over a million parts fit their type.
constexpr std::uint64_t most = 1'000'000'000'000;

/// "low_resistant", and "not_judged" for what is not applicable.
std::string key_of(VerdictClass verdict_class) {
  if (verdict_class == VerdictClass::not_applicable)
    return "not_judged";
  std::string key(to_string(verdict_class));
  std::ranges::replace(key, ' ', '_');
  return key;
}

Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

Json to_json(const std::optional<MultiplicationFactor>& factor) {
  return factor ? Json(factor->value()) : Json(nullptr);
}

/// A field's value: a year as a number, any other as text, null if it was not given.
Json value_json(SurveyField field, const std::string& value) {
  if (field == SurveyField::year && !value.empty())
    return std::stoi(value);
  return text_or_null(value);
}

void add_tally(Json& json, const VerdictTally& tally) {
  const StratumSummary summary = summarise(tally);
  json["tested"] = summary.tested;
  json["judged"] = summary.judged;
  for (std::size_t v = 0; v < verdict_classes; ++v)
    json[key_of(static_cast<VerdictClass>(v))] = tally[v];
  json["resistant_percent"] = in_percent(summary.resistant.value);
  json["resistant_lower_percent"] = in_percent(summary.resistant.lower);
  json["resistant_upper_percent"] = in_percent(summary.resistant.upper);
  json["at_most_percent"] = in_percent(summary.at_most.value);
  json["at_most_upper_percent"] = in_percent(summary.at_most.upper);
}

Json to_json(const Breakdown& breakdown) {
  Json names = Json::array();
  for (const SurveyField field : breakdown.fields)
    names.push_back(to_string(field));
  Json strata = Json::array();
  for (const auto& [stratum, tally] : breakdown.strata) {
    Json json = Json::object();
    for (std::size_t f = 0; f < breakdown.fields.size(); ++f)
      json[std::string(to_string(breakdown.fields[f]))] =
          value_json(breakdown.fields[f], stratum[f]);
    add_tally(json, tally);
    strata.push_back(std::move(json));
  }
  return {{"by", names}, {"strata", strata}};
}

Json to_json(const SurveySize& size) {
  return {{"trials", size.trials},
          {"groups", size.groups},
          {"animals", size.animals},
          {"groups_with_eggs_apart", size.groups_with_kinds}};
}

Json settings_json(const Survey& survey) {
  const SurveySettings& settings = survey.settings;
  Json windows = Json::array();
  for (const SamplingWindow& window : settings.windows)
    windows.push_back(window_json(window));
  return {{"criteria", criteria_json(settings.criteria)},
          {"windows", windows},
          {"units_confirmed", settings.units_confirmed},
          {"within_animal_variation_scale", settings.priors.within_animals.scale},
          {"between_animal_variation_scale", settings.priors.mean.between_animals.scale},
          {"prior_middle_eggs", settings.priors.mean.middle_eggs},
          {"prior_cv_ratio", settings.priors.mean.cv_ratio},
          {"proportion_level", StratumSummary::level},
          {"factor_before", to_json(survey.reading.factor_before)},
          {"factor_after", to_json(survey.reading.factor_after)},
          {"host", text_or_null(survey.reading.host)},
          {"control", text_or_null(survey.reading.control)}};
}

std::string text_of(const Json& json) {
  return json.is_null() ? std::string() : json.get<std::string>();
}

std::optional<MultiplicationFactor> read_factor(const Json& json) {
  return json.is_null() ? std::nullopt : std::optional(MultiplicationFactor(json.get<double>()));
}

void read_settings(const Json& json, Survey& survey) {
  SurveySettings& settings = survey.settings;
  settings.criteria = read_criteria(json.at("criteria"));
  for (const Json& window : json.at("windows"))
    settings.windows.push_back(read_window(window));
  settings.units_confirmed = json.at("units_confirmed");
  settings.priors.within_animals.scale = json.at("within_animal_variation_scale");
  settings.priors.mean.between_animals.scale = json.at("between_animal_variation_scale");
  settings.priors.mean.middle_eggs = json.at("prior_middle_eggs");
  settings.priors.mean.cv_ratio = json.at("prior_cv_ratio");
  survey.reading.factor_before = read_factor(json.at("factor_before"));
  survey.reading.factor_after = read_factor(json.at("factor_after"));
  survey.reading.host = text_of(json.at("host"));
  survey.reading.control = text_of(json.at("control"));
}

Json drop_json(const std::optional<EfficacyDrop>& drop) {
  if (!drop)
    return nullptr;
  return {{"any_drop_percent", in_percent(drop->any)},
          {"marked_drop_percent", in_percent(drop->marked)}};
}

Json to_json(const FarmCourse& course) {
  Json tests = Json::array();
  for (const CourseTest& test : course.tests)
    tests.push_back({{"trial_number", test.trial_number},
                     {"trial", test.trial},
                     {"group", test.group},
                     {"year", test.year},
                     {"day", text_or_null(test.day)},
                     {"reduction_percent", in_percent(test.reduction)},
                     {"lower_percent", in_percent(test.lower)},
                     {"upper_percent", in_percent(test.upper)},
                     {"standing", to_string(test.standing)},
                     {"left_out", text_or_null(test.left_out)},
                     {"since_first", drop_json(test.since_first)},
                     {"since_last", drop_json(test.since_last)}});
  return {{"farm", course.key.farm},
          {"drench", course.key.drench},
          {"host", text_or_null(course.key.host)},
          {"worm", text_or_null(course.key.worm)},
          {"word", to_string(course.word)},
          {"tests", tests}};
}

Json heard_json(const Survey& survey) {
  Json all = Json::array();
  for (const auto& [stratum, heard] : survey.heard) {
    Json curves = Json::array();
    for (const auto& [curve, times] : heard)
      curves.push_back({curve[0], curve[1], curve[2], times});
    Json json = Json::object();
    for (std::size_t f = 0; f < heard_by.size(); ++f)
      json[std::string(to_string(heard_by[f]))] = value_json(heard_by[f], stratum[f]);
    json["curves"] = std::move(curves);
    all.push_back(std::move(json));
  }
  return all;
}

Json limits_json(const MedianAndLimits& efficacy) {
  return {{"median_percent", in_percent(efficacy.median)},
          {"lower_percent", in_percent(efficacy.lower)},
          {"upper_percent", in_percent(efficacy.upper)}};
}

Json to_json(const RegionPicture& picture) {
  Json below = Json::array();
  for (const BelowThreshold& each : picture.below)
    below.push_back({{"efficacy_percent", in_percent(each.efficacy)},
                     {"groups", six_digits(each.groups.mean)},
                     {"groups_lower", each.groups.lower},
                     {"groups_upper", each.groups.upper},
                     {"new_farm_percent", in_percent(each.new_farm)}});
  return {{"class", text_or_null(picture.drug_class)},
          {"host", text_or_null(picture.host)},
          {"year", nullptr}, // of all years together
          {"groups", picture.groups},
          {"level", RegionPicture::level},
          {"median_efficacy", limits_json(picture.median)},
          {"new_farm", limits_json(picture.new_farm)},
          {"below", below}};
}

std::optional<double> read_percent(const Json& json) {
  return json.is_null() ? std::nullopt : std::optional(of_percent(json.get<double>()));
}

std::optional<EfficacyDrop> read_drop(const Json& json) {
  if (json.is_null())
    return std::nullopt;
  const auto chance = [&](const char* key) { return of_percent(within(json.at(key), 0, 100)); };
  return EfficacyDrop{chance("any_drop_percent"), chance("marked_drop_percent")};
}

FarmCourse read_course(const Json& json) {
  FarmCourse course;
  course.key = {json.at("farm"), json.at("drench"), text_of(json.at("host")),
                text_of(json.at("worm"))};
  course.word = named(json.at("word"), parse_course_word);
  for (const Json& each : json.at("tests")) {
    CourseTest test;
    test.trial_number = whole(each.at("trial_number"), most);
    test.trial = each.at("trial");
    test.group = each.at("group");
    test.year = static_cast<int>(whole(each.at("year"), 9'999));
    test.day = text_of(each.at("day"));
    test.reduction = read_percent(each.at("reduction_percent"));
    test.lower = read_percent(each.at("lower_percent"));
    test.upper = read_percent(each.at("upper_percent"));
    test.standing = named(each.at("standing"), parse_verdict_class);
    test.left_out = text_of(each.at("left_out"));
    test.since_first = read_drop(each.at("since_first"));
    test.since_last = read_drop(each.at("since_last"));
    course.tests.push_back(std::move(test));
  }
  require(course.tests.size() >= 2, "a farm's years of a single test");
  return course;
}

/// A stratum's value of a field.
std::string read_value(SurveyField field, const Json& value) {
  return field == SurveyField::year && !value.is_null() ? fmt::format("{}", whole(value, 9'999))
                                                        : text_of(value);
}

void read_heard(const Json& json, Survey& survey) {
  std::uint64_t left = survey.surveyed.groups;
  for (const Json& each : json) {
    Stratum stratum;
    for (const SurveyField field : heard_by)
      stratum.push_back(read_value(field, each.at(std::string(to_string(field)))));
    HeardLikelihoods& heard = survey.heard[stratum];
    for (const Json& curve : each.at("curves")) {
      require(curve.size() == 4, "a likelihood that is not four numbers");
      std::array<std::int32_t, 3> numbers{};
      for (std::size_t n = 0; n < numbers.size(); ++n)
        numbers[n] = static_cast<std::int32_t>(within(curve.at(n), -10'000, 10'000));
      check(HeardLikelihood{numbers[0], numbers[1], numbers[2]});
      const std::uint64_t times = whole(curve.at(3), left);
      left -= times;
      require(times > 0 && heard.emplace(numbers, times).second, "a likelihood twice, or never");
    }
  }
}

SurveySize read_size(const Json& json) {
  return {whole(json.at("trials"), most), whole(json.at("groups"), most),
          whole(json.at("animals"), most), whole(json.at("groups_with_eggs_apart"), most)};
}

/// At most `left` groups, which are then taken from it.
VerdictTally read_tally(const Json& json, std::uint64_t& left) {
  VerdictTally tally{};
  for (std::size_t v = 0; v < verdict_classes; ++v) {
    tally[v] = whole(json.at(key_of(static_cast<VerdictClass>(v))), left);
    left -= tally[v];
  }
  return tally;
}

/// Of a survey of so many groups.
Breakdown read_breakdown(const Json& fields, const Json& strata, std::uint64_t groups) {
  Breakdown breakdown;
  for (const Json& field : fields)
    breakdown.fields.push_back(named(field, parse_survey_field));
  for (const Json& entry : strata) {
    Stratum stratum;
    for (const SurveyField field : breakdown.fields)
      stratum.push_back(read_value(field, entry.at(std::string(to_string(field)))));
    require(breakdown.strata.emplace(stratum, read_tally(entry, groups)).second, "a stratum twice");
  }
  require(groups == 0, "strata that do not add up");
  return breakdown;
}

Survey read_survey(const Json& json) {
  require(std::ranges::find(schemas_before, json.at("schema")) == schemas_before.end(),
          "of an earlier version, which worked out or kept less; survey the tables again");
  require(json.at("schema") == survey_schema, "another schema");
  Survey survey;
  survey.version = json.at("version");
  survey.shard = read_shard(json.at("shard"));
  read_settings(json.at("settings"), survey);
  for (const Json& table : json.at("tables"))
    survey.tables.push_back({table.at("name"), table.at("digest")});
  survey.in_tables = read_size(json.at("in_tables"));
  survey.surveyed = read_size(json.at("surveyed"));
  const std::uint64_t groups = survey.surveyed.groups;
  Json all = Json::array();
  all.push_back(json.at("all"));
  survey.all = read_breakdown(Json::array(), all, groups);
  for (const BarCode code : all_bar_codes)
    survey.barred[static_cast<std::size_t>(code)] =
        whole(json.at("barred").at(std::string(to_string(code))), groups);
  read_heard(json.at("heard"), survey);
  for (const Json& course : json.at("courses"))
    survey.courses.push_back(read_course(course));
  for (const Json& breakdown : json.at("breakdowns"))
    survey.breakdowns.push_back(read_breakdown(breakdown.at("by"), breakdown.at("strata"), groups));
  return survey;
}

} // namespace

std::string survey_json(const Survey& survey, const std::vector<RegionPicture>& pictures) {
  Json regions = Json::array();
  for (const RegionPicture& picture : pictures)
    regions.push_back(to_json(picture));
  Json all = Json::object();
  add_tally(all, survey.all.strata.at({}));
  Json breakdowns = Json::array();
  for (const Breakdown& breakdown : survey.breakdowns)
    breakdowns.push_back(to_json(breakdown));
  Json barred = Json::object();
  for (const BarCode code : all_bar_codes)
    barred[std::string(to_string(code))] = survey.barred[static_cast<std::size_t>(code)];
  Json courses = Json::array();
  for (const FarmCourse& course : survey.courses)
    courses.push_back(to_json(course));
  Json tables = Json::array();
  for (const SurveyTable& table : survey.tables)
    tables.push_back({{"name", table.name}, {"digest", table.digest}});
  const Json json{{"schema", survey_schema},
                  {"version", survey.version},
                  {"shard", {{"index", survey.shard.index}, {"of", survey.shard.count}}},
                  {"settings", settings_json(survey)},
                  {"tables", tables},
                  {"in_tables", to_json(survey.in_tables)},
                  {"surveyed", to_json(survey.surveyed)},
                  {"all", all},
                  {"barred", barred},
                  {"breakdowns", breakdowns},
                  {"courses", courses},
                  {"regions", regions},
                  {"heard", heard_json(survey)}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Survey read_survey_json(std::string_view json, const std::string& source) {
  return read_json(json, source, "no result of a survey", "the JSON of a survey", read_survey);
}

} // namespace eggfall
