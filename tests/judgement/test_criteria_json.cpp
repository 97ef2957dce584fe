#include "judgement/criteria_json.hpp"

#include "support/support.hpp"

#include <functional>
#include <stdexcept>
#include <vector>

using namespace eggfall;

namespace {

/// An invented criterion of two rows, one of them for any group.
Criteria invented() {
  Criteria criteria;
  criteria.name = "valley-2030";
  criteria.title = "Valley 2030";
  criteria.rule = Rule::two_one_sided;
  criteria.level = 0.9;
  criteria.method = Method::bootstrap_bca;
  criteria.citation = {"Rules of an invented valley", Provenance::user};
  CutOff some;
  some.scope = {{"sheep", "goats"}, {DrugClass::bz, DrugClass::ml}, "haemonchus"};
  some.expected = 0.99;
  some.lower = 0.95;
  some.citation = {"Another page", Provenance::practice};
  CutOff any;
  any.expected = 0.95;
  any.lower = 0.9;
  any.citation = criteria.citation;
  criteria.cut_offs = {some, any};
  return criteria;
}

} // namespace

TEST_CASE("A criterion in JSON has names for values, percentages, and null for any") {
  const Json json = criteria_json(invented());
  CHECK(json["name"] == "valley-2030");
  CHECK(json["title"] == "Valley 2030");
  CHECK(json["rule"] == "two-one-sided");
  CHECK(json["level"] == 0.9);
  CHECK(json["interval"] == "bootstrap-bca");
  CHECK(json["source"] == "Rules of an invented valley");
  CHECK(json["provenance"] == "user");
  REQUIRE(json["cut_offs"].size() == 2);
  const Json& some = json["cut_offs"][0];
  CHECK(some["host"] == Json{"sheep", "goats"});
  CHECK(some["drug_class"] == Json{"BZ", "ML"});
  CHECK(some["worm"] == "haemonchus");
  CHECK(some["expected_percent"] == 99.0);
  CHECK(some["lower_percent"] == 95.0);
  CHECK(some["provenance"] == "practice");
  const Json& any = json["cut_offs"][1];
  CHECK(any["host"].empty());
  CHECK(any["drug_class"].empty());
  CHECK(any["worm"].is_null());
  CHECK_FALSE(json.contains("minima"));
}

TEST_CASE("A rule on the reduction alone has neither level nor lower threshold in JSON") {
  Criteria criteria = invented();
  criteria.rule = Rule::reduction_alone;
  criteria.method.reset();
  for (CutOff& row : criteria.cut_offs)
    row.lower.reset();
  const Json json = criteria_json(criteria);
  CHECK(json["level"].is_null());
  CHECK(json["interval"].is_null());
  CHECK(json["cut_offs"][0]["lower_percent"].is_null());
  CHECK(read_criteria(json) == criteria);
}

TEST_CASE("What was written is read back, but for the minima") {
  CHECK(read_criteria(criteria_json(invented())) == invented());
  std::size_t whole = 0;
  for (Criteria criteria : published_cut_offs().criteria) {
    CAPTURE(criteria.name);
    const Criteria read = read_criteria(criteria_json(criteria));
    criteria.minima.clear();
    CHECK(read.cut_offs == criteria.cut_offs);
    CHECK(read.rule == criteria.rule);
    CHECK(read.method == criteria.method);
    CHECK(read.citation == criteria.citation);
    if (criteria.rule == Rule::reduction_alone) // whose level is not written
      continue;
    CHECK(read == criteria);
    ++whole;
  }
  CHECK(whole >= 3);
}

TEST_CASE("A window of days is read back as it was written, and refused if it cannot be") {
  for (const SamplingWindow& window : published_cut_offs().windows)
    CHECK(read_window(window_json(window)) == window);
  SamplingWindow own{{}, DrugClass::lv, "levamisole", 3, 7, {"here", Provenance::user}};
  CHECK(read_window(window_json(own)) == own);
  for (const auto& change : std::vector<std::function<void(Json&)>>{
           [](Json& json) { json["drug_class"] = "XX"; },
           [](Json& json) { json["first_day"] = -1; }, [](Json& json) { json["last_day"] = 7.5; },
           [](Json& json) { json["last_day"] = 366; }}) {
    Json json = window_json(own);
    change(json);
    CHECK_THROWS_AS(read_window(json), std::invalid_argument);
  }
}

TEST_CASE("Criteria in JSON that cannot be are refused") {
  const auto changed = [](const std::function<void(Json&)>& change) {
    Json json = criteria_json(invented());
    change(json);
    return json;
  };
  for (const auto& change : std::vector<std::function<void(Json&)>>{
           [](Json& json) { json["rule"] = "by-eye"; },
           [](Json& json) { json["interval"] = "by-eye"; },
           [](Json& json) { json["provenance"] = "hearsay"; },
           [](Json& json) { json["level"] = 1.5; },
           [](Json& json) { json["cut_offs"][0]["drug_class"][0] = "XX"; },
           [](Json& json) { json["cut_offs"][0]["expected_percent"] = 100.5; },
           [](Json& json) { json["cut_offs"][0]["lower_percent"] = -1; },
           [](Json& json) { json["cut_offs"][0]["lower_percent"] = nullptr; }})
    CHECK_THROWS_AS(read_criteria(changed(change)), std::invalid_argument);
  CHECK_THROWS_AS(read_criteria(changed([](Json& json) { json.erase("title"); })), Json::exception);
  CHECK_THROWS_AS(read_criteria(changed([](Json& json) { json["name"] = 1; })), Json::exception);
}

TEST_CASE("A citation is added as its source and its provenance") {
  Json json{{"kept", 1}};
  add_citation(json, {"A 1992", Provenance::memory});
  CHECK(json == Json{{"kept", 1}, {"source", "A 1992"}, {"provenance", "memory"}});
}
