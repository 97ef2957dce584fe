#include "report/visits_json.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("A visit in JSON has null for what is missing") {
  VisitFall fall;
  fall.missing = 3;
  fall.interval.level = 0.9;
  fall.interval.why_not = "nobody";
  const auto json = visits_json({fall});
  REQUIRE(json.size() == 1);
  for (const char* key : {"day", "mean_epg_before", "mean_epg", "reduction_percent",
                          "lower_percent", "upper_percent"})
    CHECK(json[0].at(key).is_null());
  CHECK(json[0].at("missing") == 3);
  CHECK(json[0].at("why_not") == "nobody");
  CHECK(visits_json({}).dump() == "[]");
}

TEST_CASE("Egg reappearance in JSON has its definition, source and provenance beside it") {
  CHECK(reappearance_json(std::nullopt).is_null());
  EggReappearance reappearance;
  reappearance.outcome = ReappearanceOutcome::shorter;
  reappearance.threshold = 0.9;
  reappearance.definition = "back";
  reappearance.definition_citation = {"a review", Provenance::memory};
  reappearance.expected = ExpectedWeeks{6, 8, "ivermectin", {"reviews", Provenance::memory}};
  reappearance.chances = {{28, 0.25, 0.5}};
  reappearance.shorter_at_least = 0.5;
  const auto json = reappearance_json(reappearance);
  CHECK(json.at("outcome") == "shorter");
  CHECK(json.at("threshold_percent") == 90.0);
  CHECK(json.at("provenance") == "memory");
  CHECK(json.at("expected").at("first_week") == 6);
  CHECK(json.at("expected").at("provenance") == "memory");
  CHECK(json.at("chances")[0].at("below_percent") == 25.0);
  CHECK(json.at("chances")[0].at("back_by_percent") == 50.0);
  CHECK(json.at("first_day_back").is_null());
  CHECK(json.at("shorter_at_most_percent").is_null());
  CHECK(json.at("why_not").is_null());
}
