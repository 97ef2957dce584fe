#include "report/visits_json.hpp"

#include "eggfall/base/percent.hpp"
#include "formats/json_values.hpp"
#include "judgement/egg_reappearance.hpp"

#include <string_view>

namespace eggfall {

Json visits_json(const std::vector<VisitFall>& visits) {
  Json array = Json::array();
  for (const VisitFall& visit : visits)
    array.push_back({{"day", or_null(visit.day)},
                     {"is_test", visit.is_test},
                     {"animals", visit.animals},
                     {"missing", visit.missing},
                     {"without_before", visit.without_before},
                     {"mean_epg_before", or_null(visit.mean_before)},
                     {"mean_epg", or_null(visit.mean_epg)},
                     {"reduction_percent", in_percent(visit.reduction)},
                     {"method", to_string(visit.interval.method)},
                     {"level", visit.interval.level},
                     {"lower_percent", in_percent(visit.interval.lower)},
                     {"upper_percent", in_percent(visit.interval.upper)},
                     {"why_not", visit.interval.why_not.empty() ? Json(nullptr)
                                                                : Json(visit.interval.why_not)}});
  return array;
}

Json reappearance_json(const std::optional<EggReappearance>& reappearance) {
  if (!reappearance)
    return nullptr;
  Json json{
      {"outcome", to_string(reappearance->outcome)},
      {"why_not", reappearance->why_not.empty() ? Json(nullptr) : Json(reappearance->why_not)},
      {"definition", reappearance->definition},
      {"threshold_percent", in_percent(reappearance->threshold)},
      {"source", reappearance->definition_citation.source},
      {"provenance", to_string(reappearance->definition_citation.provenance)},
      {"expected", nullptr},
      {"level", reappearance->level},
      {"chances", Json::array()},
      {"last_day_clear", or_null(reappearance->last_day_clear)},
      {"first_day_back", or_null(reappearance->first_day_back)},
      {"shorter_at_least_percent", in_percent(reappearance->shorter_at_least)},
      {"shorter_at_most_percent", in_percent(reappearance->shorter_at_most)}};
  if (reappearance->expected)
    json["expected"] = {{"of", reappearance->expected->known_for},
                        {"first_week", reappearance->expected->first},
                        {"last_week", reappearance->expected->last},
                        {"source", reappearance->expected->citation.source},
                        {"provenance", to_string(reappearance->expected->citation.provenance)}};
  for (const ReappearanceChance& each : reappearance->chances)
    json["chances"].push_back({{"day", each.day},
                               {"below_percent", in_percent(each.below)},
                               {"back_by_percent", in_percent(each.back_by)}});
  return json;
}

} // namespace eggfall
