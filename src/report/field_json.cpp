#include "report/field_json.hpp"

#include "formats/json_values.hpp"

#include <cstddef>
#include <vector>

namespace eggfall {
nlohmann::ordered_json to_json(const DoseCheck& doses) {
  if (!doses.any())
    return nullptr;
  const auto tags = [&](const std::vector<std::size_t>& indices) {
    Json array = Json::array();
    for (const std::size_t i : indices)
      array.push_back(doses.animals[i].animal);
    return array;
  };
  const auto value_of = [&](const std::optional<std::size_t>& index, auto&& value) {
    return index ? Json(value(doses.animals[*index])) : Json(nullptr);
  };
  const auto tag = [](const AnimalDose& animal) { return Json(animal.animal); };
  const auto share = [](const AnimalDose& animal) { return in_percent(animal.share); };
  return {
      {"checked", doses.checked},
      {"under", tags(doses.under)},
      {"over", tags(doses.over)},
      {"reduction_without_under_percent", in_percent(doses.reduction_without_under)},
      {"under_below_percent", in_percent(doses.bounds.under)},
      {"over_from_percent", in_percent(doses.bounds.over)},
      {"lowest_percent", value_of(doses.lowest, share)},
      {"lowest_animal", value_of(doses.lowest, tag)},
      {"highest_percent", value_of(doses.highest, share)},
      {"highest_animal", value_of(doses.highest, tag)},
      {"one_dose_ml", or_null(doses.one_dose_ml)},
      {"heaviest_animal", value_of(doses.heaviest, tag)},
      {"heaviest_kg", value_of(doses.heaviest,
                               [](const AnimalDose& animal) { return or_null(animal.weight_kg); })},
      {"heaviest_needs_ml",
       value_of(doses.heaviest,
                [](const AnimalDose& animal) { return or_null(animal.needed_ml); })},
      {"not_weighed", tags(doses.not_weighed)},
      {"not_dosed", tags(doses.not_dosed)},
      {"no_label_rate", tags(doses.no_label_rate)}};
}

nlohmann::ordered_json to_json(const DayCheck& days) {
  return {{"first_day", or_null(days.first_day)},
          {"last_day", or_null(days.last_day)},
          {"early", days.early},
          {"late", days.late},
          {"undated", days.undated},
          {"longest_before", or_null(days.longest_before)},
          {"usual_first_day", days.usual.first_day},
          {"usual_last_day", days.usual.last_day},
          {"also_usual_day", days.usual.drug_classes_compared ? Json(common_day()) : Json(nullptr)},
          {"usual_source", days.usual.citation.source},
          {"usual_provenance", to_string(days.usual.citation.provenance)}};
}

nlohmann::ordered_json to_json(const std::optional<MissingAfter>& missing) {
  if (!missing)
    return nullptr;
  return {{"animals", missing->animals},
          {"fall_if_unchanged_percent", in_percent(missing->fall_if_unchanged)},
          {"fall_if_none_percent", in_percent(missing->fall_if_none)}};
}

void add_field_checks(nlohmann::ordered_json& per_animal, const DoseCheck& doses,
                      const DayCheck& days) {
  for (std::size_t i = 0; i < per_animal.size(); ++i) {
    Json& animal = per_animal[i];
    animal["dose_of_label_percent"] = in_percent(doses.animals.at(i).share);
    animal["mg_per_kg"] = or_null(doses.animals.at(i).mg_per_kg);
    animal["days_after"] = or_null(days.animals.at(i).after);
  }
}

} // namespace eggfall
