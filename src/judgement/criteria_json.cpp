#include "judgement/criteria_json.hpp"

#include <cmath>
#include <utility>

namespace eggfall {
namespace {

Citation read_citation(const Json& json) {
  return {json.at("source"), named(json.at("provenance"), parse_provenance)};
}

Scope read_scope(const Json& json) {
  Scope scope;
  scope.hosts = json.at("host").get<std::vector<std::string>>();
  for (const Json& drug_class : json.at("drug_class"))
    scope.classes.push_back(named(drug_class, parse_drug_class));
  if (!json.at("worm").is_null())
    scope.worm = json.at("worm");
  return scope;
}

CutOff read_cut_off(const Json& json, Rule rule) {
  CutOff row;
  row.scope = read_scope(json);
  row.expected = within(json.at("expected_percent"), 0, 100) / 100;
  if (!json.at("lower_percent").is_null())
    row.lower = within(json.at("lower_percent"), 0, 100) / 100;
  require(row.lower || rule == Rule::reduction_alone,
          "a criterion without the lower threshold that its rule needs");
  row.citation = read_citation(json);
  return row;
}

int read_day(const Json& json) {
  constexpr double most = 365;
  const double day = within(json, 0, most);
  require(day == std::floor(day), "a day that is no whole number");
  return static_cast<int>(day);
}

} // namespace

Json scope_json(const Scope& scope) {
  Json classes = Json::array();
  for (const DrugClass drug_class : scope.classes)
    classes.push_back(to_string(drug_class));
  return {{"host", scope.hosts},
          {"drug_class", classes},
          {"worm", scope.worm.empty() ? Json(nullptr) : Json(scope.worm)}};
}

void add_citation(Json& json, const Citation& citation) {
  json["source"] = citation.source;
  json["provenance"] = to_string(citation.provenance);
}

Json criteria_json(const Criteria& criteria) {
  Json json{
      {"name", criteria.name},
      {"title", criteria.title},
      {"rule", to_string(criteria.rule)},
      {"level", criteria.rule == Rule::reduction_alone ? Json(nullptr) : Json(criteria.level)},
      {"interval", criteria.method ? Json(to_string(*criteria.method)) : Json(nullptr)}};
  add_citation(json, criteria.citation);
  json["cut_offs"] = Json::array();
  for (const CutOff& row : criteria.cut_offs) {
    Json entry = scope_json(row.scope);
    entry["expected_percent"] = in_percent(row.expected);
    entry["lower_percent"] = in_percent(row.lower);
    add_citation(entry, row.citation);
    json["cut_offs"].push_back(std::move(entry));
  }
  return json;
}

Json window_json(const SamplingWindow& window) {
  Json json{{"host", window.hosts},
            {"drug_class", to_string(window.drug_class)},
            {"drench_contains",
             window.drench_contains.empty() ? Json(nullptr) : Json(window.drench_contains)},
            {"first_day", window.first_day},
            {"last_day", window.last_day}};
  add_citation(json, window.citation);
  return json;
}

SamplingWindow read_window(const Json& json) {
  SamplingWindow window;
  window.hosts = json.at("host").get<std::vector<std::string>>();
  window.drug_class = named(json.at("drug_class"), parse_drug_class);
  if (!json.at("drench_contains").is_null())
    window.drench_contains = json.at("drench_contains");
  window.first_day = read_day(json.at("first_day"));
  window.last_day = read_day(json.at("last_day"));
  window.citation = read_citation(json);
  return window;
}

Criteria read_criteria(const Json& json) {
  Criteria criteria;
  criteria.name = json.at("name");
  criteria.title = json.at("title");
  criteria.rule = named(json.at("rule"), parse_rule);
  if (!json.at("level").is_null())
    criteria.level = within(json.at("level"), 0, 1);
  if (!json.at("interval").is_null())
    criteria.method = named(json.at("interval"), parse_method);
  criteria.citation = read_citation(json);
  for (const Json& row : json.at("cut_offs"))
    criteria.cut_offs.push_back(read_cut_off(row, criteria.rule));
  return criteria;
}

} // namespace eggfall
