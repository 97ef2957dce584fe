#include "simulation/audit_json.hpp"

#include "eggfall/simulation/audit_summary.hpp"
#include "formats/json_values.hpp"
#include "simulation/audit_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>
#include <set>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view audit_schema = "eggfall.audit/3";
/// The schemas of earlier versions, which wrote shares beside the tallies: they are refused.
constexpr std::array<std::string_view, 2> audit_schemas_before{"eggfall.audit/1",
                                                               "eggfall.audit/2"};
/// The most that a trial can add to MethodTally::width, in millionths of a percentage point: an
/// interval from -100% to 100%.
constexpr std::uint64_t widest = 200'000'000;

Json to_json(const AuditCriterion& criterion) {
  return {{"criteria", criterion.name},
          {"title", criterion.title},
          {"rule", to_string(criterion.rule)},
          {"level", criterion.level},
          {"method", criterion.method ? Json(to_string(*criterion.method)) : Json(nullptr)},
          {"expected_percent", in_percent(criterion.cut_off.expected)},
          {"lower_percent", in_percent(criterion.cut_off.lower)},
          {"source", criterion.cut_off.citation.source},
          {"provenance", to_string(criterion.cut_off.citation.provenance)}};
}

/// The order in which a method's trials are counted by class.
Json class_names() {
  Json names = Json::array();
  for (std::size_t v = 0; v < verdict_classes; ++v)
    names.push_back(to_string(static_cast<VerdictClass>(v)));
  return names;
}

Json to_json(const MethodTally& method) {
  return {{"method", to_string(method.method)}, {"held", method.held},
          {"truth_above", method.truth_above},  {"truth_below", method.truth_below},
          {"unusable", method.unusable},        {"width_sum", method.width},
          {"classes", method.verdicts}};
}

/// All of a farm but its methods.
Json to_json(const AuditedFarm& audited) {
  Json json{{"design", to_string(audited.farm.design)},
            {"shape", to_string(audited.farm.model.shape)}};
  for (const FarmField& field : farm_fields()) {
    const auto value = field.get(audited.farm);
    json[std::string(field.key)] = value ? Json(*value) : Json(nullptr);
  }
  json["true_efficacy_percent"] = in_percent(true_efficacy(audited.farm.model));
  json["trials"] = audited.tally.trials;
  json["without_estimate"] = audited.tally.without_estimate;
  json["none_after"] = audited.tally.none_after;
  json["reduction_sum"] = audited.tally.reduction;
  return json;
}

Json settings_json(const AuditSettings& settings) {
  Json methods = Json::array();
  for (const Method method : settings.methods)
    methods.push_back(to_string(method));
  Json criteria = Json::array();
  for (const AuditCriterion& criterion : settings.criteria)
    criteria.push_back(to_json(criterion));
  return {{"trials", settings.trials},
          {"seed", settings.seed},
          {"level", settings.level},
          {"within_animal_variation_scale", settings.priors.within_animals.scale},
          {"between_animal_variation_scale", settings.priors.mean.between_animals.scale},
          {"prior_middle_eggs", settings.priors.mean.middle_eggs},
          {"prior_cv_ratio", settings.priors.mean.cv_ratio},
          {"methods", methods},
          {"criteria", criteria},
          {"classes", class_names()}};
}

std::string one_line(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// A line for the farm and one for each of its methods.
std::string farm_lines(const AuditedFarm& audited) {
  std::vector<std::string> methods;
  for (const MethodTally& method : audited.tally.methods)
    methods.push_back("\n   " + one_line(to_json(method)));
  std::string out = one_line(to_json(audited));
  out.pop_back(); // its closing brace, since the methods follow
  return fmt::format("\n  {},\"methods\":[{}]}}", out, fmt::join(methods, ","));
}

AuditCriterion read_criterion(const Json& json) {
  AuditCriterion criterion;
  criterion.name = json.at("criteria");
  criterion.title = json.at("title");
  criterion.rule = named(json.at("rule"), parse_rule);
  criterion.level = within(json.at("level"), 0, 1);
  if (!json.at("method").is_null())
    criterion.method = named(json.at("method"), parse_method);
  criterion.cut_off.expected = within(json.at("expected_percent"), 0, 100) / 100;
  if (!json.at("lower_percent").is_null())
    criterion.cut_off.lower = within(json.at("lower_percent"), 0, 100) / 100;
  require(criterion.cut_off.lower || criterion.rule == Rule::reduction_alone,
          "a criterion without the lower threshold that its rule needs");
  criterion.cut_off.citation = {json.at("source"), named(json.at("provenance"), parse_provenance)};
  return criterion;
}

AuditSettings read_settings(const Json& json) {
  constexpr std::uint64_t any = std::numeric_limits<std::uint64_t>::max();
  AuditSettings settings;
  settings.trials = static_cast<std::size_t>(whole(json.at("trials"), AuditSettings::most_trials));
  settings.seed = whole(json.at("seed"), any);
  settings.level = within(json.at("level"), 0.5, 0.999);
  settings.priors.within_animals.scale = json.at("within_animal_variation_scale");
  settings.priors.mean.between_animals.scale = json.at("between_animal_variation_scale");
  settings.priors.mean.middle_eggs = json.at("prior_middle_eggs");
  settings.priors.mean.cv_ratio = json.at("prior_cv_ratio");
  for (const Json& method : json.at("methods"))
    settings.methods.push_back(named(method, parse_method));
  for (const Json& criterion : json.at("criteria"))
    settings.criteria.push_back(read_criterion(criterion));
  require(json.at("classes") == class_names(), "other classes");
  return settings;
}

/// Reads the tally of a method, on a farm with `trials`, of which `with_reduction` had a reduction.
MethodTally read_method(const Json& json, Method method, std::size_t criteria, std::uint64_t trials,
                        std::uint64_t with_reduction) {
  require(named(json.at("method"), parse_method) == method, "a method out of place");
  MethodTally tally;
  tally.method = method;
  tally.held = whole(json.at("held"), with_reduction);
  tally.truth_above = whole(json.at("truth_above"), with_reduction);
  tally.truth_below = whole(json.at("truth_below"), with_reduction);
  tally.unusable = whole(json.at("unusable"), with_reduction);
  tally.width = whole(json.at("width_sum"), widest * trials);
  require(tally.held + tally.truth_above + tally.truth_below + tally.unusable == with_reduction,
          "tallies that do not add up");
  const Json& verdicts = json.at("classes");
  require(verdicts.is_array() && verdicts.size() == criteria, "classes by other criteria");
  for (const Json& counts : verdicts) {
    require(counts.is_array() && counts.size() == verdict_classes, "other classes");
    VerdictTally& classes = tally.verdicts.emplace_back();
    std::uint64_t sum = 0;
    for (std::size_t v = 0; v < verdict_classes; ++v)
      sum += classes[v] = whole(counts.at(v), trials);
    require(sum == trials, "classes that do not add up");
  }
  return tally;
}

AuditFarm read_cell(const Json& json) {
  AuditFarm farm;
  farm.design = named(json.at("design"), parse_design);
  farm.model.shape = named(json.at("shape"), parse_level_shape);
  for (const FarmField& field : farm_fields())
    if (const Json& value = json.at(std::string(field.key)); !value.is_null())
      field.set(farm, value);
  check(farm);
  return farm;
}

FarmTally read_tally(const Json& json, const AuditSettings& settings, const AuditFarm& farm) {
  FarmTally tally;
  tally.trials = whole(json.at("trials"), settings.trials);
  tally.without_estimate = whole(json.at("without_estimate"), tally.trials);
  tally.none_after = whole(json.at("none_after"), estimable(tally));
  const Json& reduction = json.at("reduction_sum");
  require(reduction.is_number_integer(), "a sum of reductions that is no whole number");
  tally.reduction = reduction.get<std::int64_t>();
  const auto most = static_cast<std::int64_t>(widest / 2 * estimable(tally));
  require(tally.reduction >= -most && tally.reduction <= most, "an impossible sum of reductions");
  const std::vector<Method> methods = audited_methods(settings, farm);
  require(json.at("methods").size() == methods.size(), "other methods than audited");
  for (std::size_t m = 0; m < methods.size(); ++m)
    tally.methods.push_back(read_method(json.at("methods").at(m), methods[m],
                                        settings.criteria.size(), tally.trials, estimable(tally)));
  return tally;
}

AuditResult read_result(const Json& json) {
  require(std::ranges::find(audit_schemas_before, json.at("schema")) == audit_schemas_before.end(),
          "of an earlier version; audit again with this one");
  require(json.at("schema") == audit_schema, "another schema");
  AuditResult result{json.at("version").get<std::string>(),
                     read_settings(json.at("settings")),
                     read_shard(json.at("shard")),
                     {}};
  std::set<std::string> names;
  for (const Json& cell : json.at("cells")) {
    const AuditFarm read = read_cell(cell);
    require(names.insert(farm_key(read)).second, "a cell twice");
    result.farms.push_back({read, read_tally(cell, result.settings, read)});
  }
  require(!result.farms.empty(), "no cells");
  return result;
}

} // namespace

std::string audit_json(const AuditResult& result) {
  std::vector<std::string> farms;
  for (const AuditedFarm& audited : result.farms)
    farms.push_back(farm_lines(audited));
  return fmt::format("{{\n \"schema\":{},\n \"version\":{},\n \"shard\":{},\n \"settings\":{},\n "
                     "\"cells\":[{}]\n}}\n",
                     one_line(audit_schema), one_line(result.version),
                     one_line({{"index", result.shard.index}, {"of", result.shard.count}}),
                     one_line(settings_json(result.settings)), fmt::join(farms, ","));
}

AuditResult read_audit_json(std::string_view json, const std::string& source) {
  return read_json(json, source, "no result of an audit", "the JSON of an audit", read_result);
}

} // namespace eggfall
