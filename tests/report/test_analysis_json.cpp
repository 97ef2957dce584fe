#include "eggfall/report/analysis_json.hpp"

#include "eggfall/base/version.hpp"

#include "support/support.hpp"
#include "support/written_trial.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

using namespace eggfall;

namespace {

nlohmann::json parsed(const std::vector<TrialAnalysis>& trials,
                      const AnalysisSettings& settings = {}) {
  return nlohmann::json::parse(analysis_json(trials, settings));
}

} // namespace

TEST_CASE("JSON keeps the schema, and a missing number is null") {
  const auto json = parsed({support::written_trial()});
  CHECK(json["schema"] == "eggfall.analysis/2");
  CHECK(json["settings"]["seed"] == 1);
  const auto& groups = json["trials"][0]["groups"];
  REQUIRE(groups.size() == 2);
  for (const auto& group : groups)
    for (const char* key : {"group", "design", "animals", "eggs_before", "eggs_after",
                            "mean_epg_before", "mean_epg_after", "reduction_percent", "intervals",
                            "verdicts", "probabilities", "caveats", "dropped", "worms"})
      CHECK(group.contains(key));
  CHECK(groups[1]["reduction_percent"].is_null());
  CHECK_THAT(groups[0]["reduction_percent"].get<double>(),
             support::close_to(100 * (1 - 8.0 / 188 / 3)));
  for (const auto& interval : groups[0]["intervals"]) {
    CHECK(interval["usable"].get<bool>() == interval["lower_percent"].is_number());
    CHECK(interval["usable"].get<bool>() == interval["why_not"].is_null());
  }
}

TEST_CASE("The settings in JSON are those of the analysis, and null where none was chosen") {
  const auto usual = parsed({})["settings"];
  CHECK(usual["level"] == 0.9);
  CHECK_FALSE(usual.contains("resamples"));
  CHECK(usual["design"].is_null());
  CHECK(usual["criteria"].is_null());
  AnalysisSettings settings;
  settings.level = 0.95;
  settings.seed = 7;
  settings.design = Design::two_group;
  settings.criteria = "waavp-1992";
  settings.priors.mean.middle_eggs = 12;
  const auto chosen = parsed({}, settings)["settings"];
  CHECK(chosen["level"] == 0.95);
  CHECK(chosen["seed"] == 7);
  CHECK(chosen["design"] == "two-group");
  CHECK(chosen["criteria"] == "waavp-1992");
  CHECK(chosen["prior_middle_eggs"] == 12);
}

TEST_CASE("JSON without a trial is whole all the same, and ends its last line") {
  const std::string text = analysis_json({}, {});
  CHECK(text.ends_with("}\n"));
  CHECK(parsed({})["trials"] == nlohmann::json::array());
  CHECK(parsed({})["version"] == version());
}

TEST_CASE("Counts of each animal and of the control are in JSON as they were given") {
  const auto trial = parsed({support::written_trial()})["trials"][0];
  CHECK(trial["trial"] == "t");
  // The first animal of Trial A: 14 eggs at a factor of 15, and none of 5 after.
  const auto& animal = trial["groups"][0]["per_animal"][0];
  CHECK(animal["animal"] == "1");
  CHECK(animal["eggs_before"] == 14);
  CHECK(animal["epg_before"] == 210.0);
  CHECK(animal["eggs_after"] == 0);
  CHECK(animal["reduction_percent"] == 100.0);
  const auto& control = trial["control"];
  CHECK(control["group"] == "C");
  CHECK(control["after"]["eggs"] == 199); // the sum of the twelve counts
  CHECK(control["before"]["eggs"].is_null());
  CHECK(control["reduction_percent"].is_null());
  CHECK(control["per_animal"][0]["eggs_before"].is_null());
  CHECK(control["per_animal"][0]["eggs_after"] == 12);
}

TEST_CASE("A name that is no UTF-8 does not break the JSON") {
  TrialAnalysis trial;
  trial.trial = "caf\xE9";
  CHECK(parsed({trial})["trials"][0]["trial"] == "caf\xEF\xBF\xBD"); // U+FFFD
}
