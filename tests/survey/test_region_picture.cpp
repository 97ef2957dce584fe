#include "survey/region_picture.hpp"

#include "judgement/judge.hpp"
#include "support/support.hpp"
#include "survey/survey_json.hpp"
#include "survey/survey_text.hpp"

#include <nlohmann/json.hpp>

#include <functional>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// A test of ten animals of 30 eggs each, of which so many are left in each.
SurveyRow row_of(std::optional<int> year, std::uint32_t left, DrugClass drug_class) {
  SurveyRow row;
  row.trial = "t";
  row.group.name = "g";
  row.group.host = "sheep";
  row.group.year = year;
  row.group.classes = {drug_class};
  Comparison comparison;
  Arm arm;
  for (std::uint32_t animal = 0; animal < 10; ++animal) {
    arm.below.push_back({EggsSeen(25 + animal), MultiplicationFactor(15)});
    arm.above.push_back({EggsSeen(left + animal % 2), MultiplicationFactor(15)});
  }
  comparison.arms = {arm};
  row.dated.counts = comparison;
  return row;
}

SurveySettings settings() {
  SurveySettings settings;
  settings.criteria = published_cut_offs().criteria.front();
  return settings;
}

/// Twelve groups of BZ, of which four fail badly, and three of ML.
Survey invented() {
  Survey survey = empty_survey(settings(), {}, {});
  for (int farm = 0; farm < 12; ++farm)
    add(survey, row_of(2030 + farm % 2, farm % 3 == 0 ? 12 : 0, DrugClass::bz));
  for (int farm = 0; farm < 3; ++farm)
    add(survey, row_of(std::nullopt, 0, DrugClass::ml));
  survey.surveyed.groups = 15;
  survey.in_tables = survey.surveyed;
  return survey;
}

} // namespace

TEST_CASE("Groups are heard by class, host and year, and together by class and host") {
  const Survey survey = invented();
  REQUIRE(survey.heard.size() == 3);
  CHECK(survey.heard.contains(Stratum{"BZ", "sheep", "2030"}));
  CHECK(survey.heard.contains(Stratum{"ML", "sheep", ""}));
  const std::vector<HeardTogether> together = heard_together(survey);
  REQUIRE(together.size() == 1); // three of ML are too few
  CHECK(together.front().drug_class == "BZ");
  CHECK(together.front().tally.groups() == 12);
}

TEST_CASE("Groups whose fall is not the drench's own, or that have no counts, are not heard") {
  for (const BarCode code : all_bar_codes) {
    SurveyRow row = row_of(2030, 0, DrugClass::bz);
    Bar bar;
    bar.code = code;
    row.standing.bars = {bar};
    INFO(to_string(code));
    CHECK(heard_of(row).has_value() == is_drenchs_own_fall(row));
  }
  SurveyRow none = row_of(2030, 0, DrugClass::bz);
  none.dated.counts.reset();
  CHECK_FALSE(heard_of(none));
  SurveyRow no_eggs = row_of(2030, 0, DrugClass::bz);
  for (Count& count : no_eggs.dated.counts->arms.front().below)
    count.eggs = EggsSeen(0);
  CHECK_FALSE(heard_of(no_eggs));
}

TEST_CASE("A picture counts the groups that truly lie below") {
  const RegionPicture picture = picture_of(heard_together(invented()).front());
  CHECK(picture.groups == 12);
  // Four lost two fifths of their eggs, and eight all but some: no trial of these leaves a doubt.
  CHECK(picture.below[0].groups.lower <= 4);
  CHECK(picture.below[0].groups.upper >= 4);
  // All that is left of doubts moves their mean by less than half a group.
  CHECK(picture.below[0].groups.mean == Approx(4).margin(0.5));
  CHECK(picture.below[1].groups.mean >= picture.below[0].groups.mean);
  CHECK(picture.below[0].new_farm > 0.1);
  CHECK(picture.below[0].new_farm < 0.7);
  CHECK(picture.median.lower <= picture.median.median);
  CHECK(picture.median.median <= picture.median.upper);
  CHECK(picture_name(picture) == "BZ, sheep");
}

TEST_CASE("What was heard is written, read back and added up, to the same bytes in any order") {
  Survey odd = empty_survey(settings(), {1, 2}, {});
  Survey even = empty_survey(settings(), {2, 2}, {});
  Survey whole = empty_survey(settings(), {}, {});
  for (int farm = 0; farm < 12; ++farm) {
    const SurveyRow row = row_of(2030, farm % 3 == 0 ? 12 : 0, DrugClass::bz);
    add(farm % 2 == 0 ? odd : even, row);
    add(whole, row);
  }
  odd.surveyed.groups = even.surveyed.groups = 6;
  odd.surveyed.trials = even.surveyed.trials = 6;
  whole.surveyed.groups = whole.surveyed.trials = 12;
  odd.in_tables = even.in_tables = whole.in_tables = whole.surveyed;
  const Survey joined = merged({read_survey_json(survey_json(even), "b.json"),
                                read_survey_json(survey_json(odd), "a.json")});
  CHECK(joined.heard == whole.heard);
  CHECK(survey_json(joined) == survey_json(whole));
}

TEST_CASE("What was heard is refused if it cannot be") {
  const std::string good = survey_json(invented());
  const auto refused = [&](const std::function<void(nlohmann::json&)>& change) {
    auto json = nlohmann::json::parse(good);
    change(json["heard"]);
    return support::input_error([&] { read_survey_json(json.dump(), "x.json"); });
  };
  CHECK(refused([](nlohmann::json& heard) {
          heard[0]["curves"][0][3] = 99;
        }).find("not a whole number") != std::string::npos);
  CHECK(refused([](nlohmann::json& heard) {
          heard[0]["curves"][0][3] = 0;
        }).find("a likelihood twice, or never") != std::string::npos);
  CHECK(refused([](nlohmann::json& heard) {
          heard[0]["curves"][0].erase(0);
        }).find("not four numbers") != std::string::npos);
  CHECK(refused([](nlohmann::json& heard) { heard[0]["curves"][0][0] = 77; }).find("77") !=
        std::string::npos);
}

TEST_CASE("Pictures stand in the text and in JSON, for readers alone") {
  const Survey survey = invented();
  const std::vector<RegionPicture> pictures{picture_of(heard_together(survey).front())};
  const std::string text = survey_text(survey, pictures);
  CHECK(text.find("All farms together") != std::string::npos);
  CHECK(text.find("  BZ, sheep                      12") != std::string::npos);
  const auto json = nlohmann::json::parse(survey_json(survey, pictures));
  REQUIRE(json["regions"].size() == 1);
  CHECK(json["regions"][0]["class"] == "BZ");
  CHECK(json["regions"][0]["year"].is_null());
  CHECK(json["regions"][0]["below"][0]["efficacy_percent"] == 90);
  CHECK(json["regions"][0]["below"][0]["groups_upper"] == pictures[0].below[0].groups.upper);
  CHECK(read_survey_json(survey_json(survey, pictures), "x.json").heard == survey.heard);
}
