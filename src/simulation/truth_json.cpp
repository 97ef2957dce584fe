#include "simulation/truth_json.hpp"

#include "eggfall/base/version.hpp"
#include "formats/json_values.hpp"
#include "simulation/audit_grid.hpp"

namespace eggfall {
namespace {

constexpr std::string_view truth_schema = "eggfall.truth/1";

Json model_json(const ScenarioGroup& group) {
  Json json{{"shape", to_string(group.model.shape)}};
  AuditFarm farm;
  farm.model = group.model;
  for (const FarmField& field : farm_fields())
    if (field.key != "control_animals") { // a group has none of its own
      const auto value = field.get(farm);
      json[std::string(field.key)] = value ? Json(*value) : Json(nullptr);
    }
  return json;
}

Json group_json(const ScenarioGroup& group) {
  return {{"group", group.name},
          {"role", to_string(group.role)},
          {"drench", group.drench},
          {"class", to_string(group.classes)},
          {"true_efficacy_percent", in_percent(true_efficacy(group))},
          {"model", model_json(group)}};
}

Json animal_json(const Animal& animal, const AnimalTruth& truth) {
  return {{"animal", animal.tag},
          {"epg_before", truth.epg_before},
          {"epg_after", truth.epg_after ? Json(*truth.epg_after) : Json(nullptr)},
          {"undosed", truth.undosed},
          {"underdosed", truth.underdosed}};
}

Json trial_json(const SimulatedTrial& simulated) {
  Json groups = Json::array();
  for (std::size_t g = 0; g < simulated.trial.groups.size(); ++g) {
    const Group& group = simulated.trial.groups[g];
    Json animals = Json::array();
    for (std::size_t i = 0; i < group.animals.size(); ++i)
      animals.push_back(animal_json(group.animals[i], simulated.truths[g][i]));
    groups.push_back({{"group", group.name}, {"animals", std::move(animals)}});
  }
  return {{"trial", simulated.trial.name}, {"groups", std::move(groups)}};
}

} // namespace

std::string truth_json(const Scenario& scenario, std::uint64_t seed,
                       const std::vector<SimulatedTrial>& trials) {
  Json json{{"schema", truth_schema},    {"version", version()},      {"seed", seed},
            {"scenario", scenario.name}, {"lesson", scenario.lesson}, {"farm", scenario.farm},
            {"groups", Json::array()},   {"trials", Json::array()}};
  for (const ScenarioGroup& group : scenario.groups)
    json["groups"].push_back(group_json(group));
  for (const SimulatedTrial& trial : trials)
    json["trials"].push_back(trial_json(trial));
  return json.dump(2) + "\n";
}

bool is_truth_json(std::string_view text) {
  const Json json = Json::parse(text, nullptr, false);
  return json.is_object() && json.contains("schema") && json.at("schema") == truth_schema;
}

} // namespace eggfall
