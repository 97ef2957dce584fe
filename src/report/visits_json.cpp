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

Json reappearance_json(const std::optional<EggReappearance>& of) {
  if (!of)
    return nullptr;
  Json json{{"outcome", to_string(of->outcome)},
            {"why_not", of->why_not.empty() ? Json(nullptr) : Json(of->why_not)},
            {"definition", of->definition},
            {"threshold_percent", in_percent(of->threshold)},
            {"source", of->definition_citation.source},
            {"provenance", to_string(of->definition_citation.provenance)},
            {"expected", nullptr},
            {"level", of->level},
            {"chances", Json::array()},
            {"last_day_clear", or_null(of->last_day_clear)},
            {"first_day_back", or_null(of->first_day_back)},
            {"shorter_at_least_percent", in_percent(of->shorter_at_least)},
            {"shorter_at_most_percent", in_percent(of->shorter_at_most)}};
  if (of->expected)
    json["expected"] = {{"of", of->expected->of},
                        {"first_week", of->expected->first},
                        {"last_week", of->expected->last},
                        {"source", of->expected->citation.source},
                        {"provenance", to_string(of->expected->citation.provenance)}};
  for (const ReappearanceChance& each : of->chances)
    json["chances"].push_back({{"day", each.day},
                               {"below_percent", in_percent(each.below)},
                               {"back_by_percent", in_percent(each.back_by)}});
  return json;
}

} // namespace eggfall
