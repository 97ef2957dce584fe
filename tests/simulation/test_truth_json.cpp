#include "simulation/truth_json.hpp"

#include "simulation/read_scenario.hpp"
#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <optional>

using namespace eggfall;

TEST_CASE("A truth file names every animal's truth") {
  const Scenario& lesson = built_in_scenario("light-doses");
  const SimulatedTrial simulated = simulate(lesson, 4, 0);
  const auto json = nlohmann::json::parse(truth_json(lesson, 4, {simulated}));
  CHECK(json["schema"] == "eggfall.truth/1");
  // 33% got too little, which removes 80% of what a full dose does: 0.98 (1 - 0.33 x 0.2).
  CHECK_THAT(json["groups"][0]["true_efficacy_percent"].get<double>(),
             Catch::WithinAbs(98 * (1 - 0.33 * 0.2), support::many_steps));
  const auto& animals = json["trials"][0]["groups"][0]["animals"];
  const Group& group = simulated.trial.groups[0];
  REQUIRE(animals.size() == group.animals.size());
  std::size_t light = 0;
  for (std::size_t i = 0; i < animals.size(); ++i) {
    CHECK(animals[i]["animal"] == group.animals[i].tag);
    const double label = *group.animals[i].weight_kg * *group.animals[i].label_ml_per_kg;
    const bool too_little = *group.animals[i].dose_ml < 0.9 * label;
    CHECK(animals[i]["underdosed"] == (too_little ? 1 : 0));
    light += too_little ? 1 : 0;
  }
  CHECK(light > 0);
  CHECK(light < animals.size());
}

TEST_CASE("A truth file keeps what is not known apart from zero, and a control has no efficacy") {
  Scenario scenario;
  scenario.name = "made";
  scenario.lesson = "A lesson.";
  scenario.groups.resize(2);
  scenario.groups[0].name = "white";
  scenario.groups[0].classes = {DrugClass::bz};
  scenario.groups[0].model.efficacy = 0.9;
  scenario.groups[0].model.undosed = 0.5;
  scenario.groups[1].name = "rest";
  scenario.groups[1].role = Role::control;
  scenario.groups[1].model.efficacy = 0.9;
  SimulatedTrial simulated;
  simulated.trial.name = "test-1";
  simulated.trial.groups.resize(1);
  simulated.trial.groups[0].name = "white";
  simulated.trial.groups[0].animals.resize(2);
  simulated.trial.groups[0].animals[0].tag = "1";
  simulated.trial.groups[0].animals[1].tag = "2";
  simulated.truths = {{{250.5, 0.0, 0, 0}, {10, std::nullopt, 1, 0}}};

  const auto json = nlohmann::json::parse(truth_json(scenario, 17, {simulated}));
  CHECK(json["seed"] == 17);
  CHECK(json["scenario"] == "made");
  CHECK(json["lesson"] == "A lesson.");
  CHECK(json["groups"][0]["class"] == "BZ");
  CHECK(json["groups"][0]["true_efficacy_percent"] == 45); // half of them got the 90%
  CHECK(json["groups"][1]["role"] == "control");
  CHECK(json["groups"][1]["true_efficacy_percent"] == 0);
  CHECK(json["groups"][0]["model"]["shape"] == "gamma");
  CHECK(json["groups"][0]["model"]["k_after"].is_null());
  CHECK_FALSE(json["groups"][0]["model"].contains("control_animals"));
  const auto& animals = json["trials"][0]["groups"][0]["animals"];
  CHECK(animals[0]["epg_before"] == 250.5);
  CHECK(animals[0]["epg_after"] == 0);
  CHECK(animals[1]["epg_after"].is_null()); // not found again
  CHECK(animals[1]["undosed"] == 1);
  CHECK(nlohmann::json::parse(truth_json(scenario, 17, {}))["trials"].empty());
}
