#include "report/cut_offs_text.hpp"

#include "base/text.hpp"
#include "cli/program.hpp"

#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>

using namespace eggfall;

namespace {

Criteria invented() {
  Criteria criteria;
  criteria.name = "valley-2030";
  criteria.title = "Valley 2030";
  criteria.rule = Rule::two_one_sided;
  criteria.level = 0.9;
  criteria.citation = {"Rules of an invented valley", Provenance::user};
  CutOff some;
  some.scope = {{"sheep", "goats"}, {DrugClass::bz}, "haemonchus"};
  some.expected = 0.99;
  some.lower = 0.95;
  some.citation = {"Another page", Provenance::memory};
  CutOff any;
  any.expected = 0.95;
  any.lower = 0.9;
  any.citation = criteria.citation;
  criteria.cut_offs = {some, any};
  Minimum minimum;
  minimum.scope.hosts = {"sheep"};
  minimum.animals = 10;
  minimum.mean_epg = 150;
  minimum.citation = {"Custom", Provenance::practice};
  criteria.minima = {minimum};
  return criteria;
}

CutOffs with_window() {
  SamplingWindow window;
  window.drug_class = DrugClass::ml;
  window.drench_contains = "moxidectin";
  window.first_day = 14;
  window.last_day = 17;
  window.citation = {"A 1992", Provenance::published};
  return {{invented()}, {window}};
}

} // namespace

TEST_CASE("Criteria are listed a line each, with the days of the second sample") {
  CHECK_THAT(
      cut_offs_list(with_window()),
      Catch::StartsWith("name                  criteria                    rule") &&
          Catch::Contains("\nvalley-2030           Valley 2030                 two-one-sided\n"
                          "\n"
                          "Second sample, days after treatment\n"
                          "  ML (moxidectin): 14 to 17. A 1992 (published text)\n") &&
          Catch::EndsWith("cutoffs field-practice\n"));
}

TEST_CASE("A criterion is explained with its rule, rows, minima and sources") {
  CHECK(
      flowing(criteria_explained(invented())) ==
      "Valley 2030 (valley-2030) Rules of an invented valley (your own) Rule: two-one-sided Lower "
      "limit of the 90% interval at or above the lower threshold: evidence of good efficacy. "
      "Upper limit below the expected efficacy: evidence of resistance. The first alone: "
      "susceptible. The second alone: resistant. Both: low resistant. Neither: inconclusive. "
      "Interval: the guarded posterior. Cut-offs (the first that fits a group is used) sheep, "
      "goats; BZ; haemonchus: expected 99%, lower 95%. Another page (from memory: check against "
      "the published guideline) any host; any class; any worm: expected 95%, lower 90% The least "
      "that is asked for sheep; any class; any worm: 10 animals a group, a mean of 150 EPG before "
      "treatment. Custom (common practice, no source)");
}

TEST_CASE("Each rule is explained in its own words") {
  Criteria criteria = invented();
  criteria.rule = Rule::reduction_and_lower_limit;
  criteria.level = 0.95;
  criteria.method = Method::log_ratio_1992;
  CHECK_THAT(
      flowing(criteria_explained(criteria)),
      Catch::Contains("Reduction below the first cut-off and lower limit of the 95% interval "
                      "below the second: resistant.") &&
          Catch::Contains("Interval: log ratio, 1992."));
  criteria.rule = Rule::reduction_alone;
  CHECK_THAT(flowing(criteria_explained(criteria)),
             Catch::Contains("No account is taken of chance.") && !Catch::Contains("Interval:"));
}

TEST_CASE("Cut-offs in JSON have their minima and windows") {
  const auto json = nlohmann::json::parse(cut_offs_json(with_window()));
  CHECK(json["schema"] == "eggfall.cut-offs-list/1");
  const auto& minimum = json["criteria"][0]["minima"][0];
  CHECK(minimum["host"] == nlohmann::json::array({"sheep"}));
  CHECK(minimum["animals"] == 10.0);
  CHECK(minimum["better_animals"].is_null());
  CHECK(minimum["mean_epg"] == 150.0);
  CHECK(minimum["provenance"] == "practice");
  const auto& window = json["sampling_windows"][0];
  CHECK(window["drug_class"] == "ML");
  CHECK(window["drench_contains"] == "moxidectin");
  CHECK(window["first_day"] == 14);
  CHECK(window["last_day"] == 17);
  CHECK(window["source"] == "A 1992");
}

TEST_CASE("A note asks to check what is from memory, and is empty for none") {
  CHECK(check_note({}).empty());
  CHECK(flowing(check_note({"A", "B"})) ==
        "Cut-offs noted from memory, to be checked against the published guideline: A; B.");
}

TEST_CASE("docs/cut-offs.md has the thresholds of field practice that the program goes by") {
  const std::string table = field_practice_table();
  CHECK(read_text(EGGFALL_SOURCE_DIR "/docs/cut-offs.md").ends_with(table));
  CHECK(std::ranges::count(table, '\n') == 40 + 2);
}

TEST_CASE("The thresholds of field practice are explained with their sources") {
  const std::string text = field_practice_explained();
  CHECK(text.find("  first-day: 7 days after treatment. ") != std::string::npos);
  CHECK(text.find("  missing-eggs: one in 3. ") != std::string::npos);
  CHECK(text.find("(common practice, no source)") != std::string::npos);
}
