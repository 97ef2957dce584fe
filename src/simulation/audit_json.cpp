#include "simulation/audit_json.hpp"

#include "eggfall/simulation/audit_summary.hpp"
#include "simulation/audit_grid.hpp"
#include "simulation/share_json.hpp"

#include <fmt/format.h>

#include <limits>
#include <set>

namespace eggfall {
namespace {

constexpr std::string_view audit_schema = "eggfall.audit/2";
/// The most that a trial can add to MethodTally::width: from -100% to 100%.
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

Json classes_json(const std::vector<VerdictTally>& classes, const AuditSettings& settings,
                  std::uint64_t trials) {
  Json json = Json::array();
  for (std::size_t c = 0; c < classes.size(); ++c) {
    Json counts = Json::object();
    for (std::size_t v = 0; v < verdict_classes; ++v) {
      const auto name = to_string(static_cast<VerdictClass>(v));
      counts[std::string(name)] = {{"trials", classes[c][v]}};
      counts[std::string(name)].update(to_json(share(classes[c][v], trials)));
    }
    json.push_back({{"criteria", settings.criteria[c].name}, {"classes", counts}});
  }
  return json;
}

Json to_json(const MethodTally& method, const CellTally& tally, const AuditSettings& settings) {
  const auto width = mean_width(method);
  return {{"method", to_string(method.method)},
          {"held", method.held},
          {"truth_above", method.truth_above},
          {"truth_below", method.truth_below},
          {"unusable", method.unusable},
          {"width_sum", method.width},
          {"coverage", to_json(coverage(tally, method))},
          {"missed_above", to_json(share(method.truth_above, estimable(tally)))},
          {"missed_below", to_json(share(method.truth_below, estimable(tally)))},
          {"mean_width_points", width ? Json(*width) : Json(nullptr)},
          {"verdicts", classes_json(method.classes, settings, tally.trials)}};
}

Json to_json(const AuditedCell& cell, const AuditSettings& settings) {
  Json json{{"design", to_string(cell.cell.design)}, {"shape", to_string(cell.cell.model.shape)}};
  for (const CellField& field : cell_fields()) {
    const auto value = field.get(cell.cell);
    json[std::string(field.key)] = value ? Json(*value) : Json(nullptr);
  }
  json["true_efficacy_percent"] = in_percent(true_efficacy(cell.cell.model));
  json["trials"] = cell.tally.trials;
  json["without_estimate"] = cell.tally.without_estimate;
  json["none_after"] = cell.tally.none_after;
  json["reduction_sum"] = cell.tally.reduction;
  json["methods"] = Json::array();
  for (const MethodTally& method : cell.tally.methods)
    json["methods"].push_back(to_json(method, cell.tally, settings));
  return json;
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
  return settings;
}

/// Of a cell with so many trials, so many of them with a reduction.
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
  const Json& verdicts = json.at("verdicts");
  require(verdicts.size() == criteria, "verdicts of other criteria");
  for (std::size_t c = 0; c < criteria; ++c) {
    VerdictTally& classes = tally.classes.emplace_back();
    std::uint64_t sum = 0;
    for (std::size_t v = 0; v < verdict_classes; ++v)
      sum += classes[v] = whole(verdicts.at(c)
                                    .at("classes")
                                    .at(std::string(to_string(static_cast<VerdictClass>(v))))
                                    .at("trials"),
                                trials);
    require(sum == trials, "classes that do not add up");
  }
  return tally;
}

AuditCell read_cell(const Json& json) {
  AuditCell cell;
  cell.design = named(json.at("design"), parse_design);
  cell.model.shape = named(json.at("shape"), parse_level_shape);
  for (const CellField& field : cell_fields())
    if (const Json& value = json.at(std::string(field.key)); !value.is_null())
      field.set(cell, value);
  check(cell);
  return cell;
}

CellTally read_tally(const Json& json, const AuditSettings& settings, const AuditCell& cell) {
  CellTally tally;
  tally.trials = whole(json.at("trials"), settings.trials);
  tally.without_estimate = whole(json.at("without_estimate"), tally.trials);
  tally.none_after = whole(json.at("none_after"), estimable(tally));
  const Json& reduction = json.at("reduction_sum");
  require(reduction.is_number_integer(), "a sum of reductions that is no whole number");
  tally.reduction = reduction.get<std::int64_t>();
  const auto most = static_cast<std::int64_t>(widest / 2 * estimable(tally));
  require(tally.reduction >= -most && tally.reduction <= most, "an impossible sum of reductions");
  const std::vector<Method> methods = audited_methods(settings, cell);
  require(json.at("methods").size() == methods.size(), "other methods than audited");
  for (std::size_t m = 0; m < methods.size(); ++m)
    tally.methods.push_back(read_method(json.at("methods").at(m), methods[m],
                                        settings.criteria.size(), tally.trials, estimable(tally)));
  return tally;
}

AuditResult read_result(const Json& json) {
  require(json.at("schema") == audit_schema, "another schema");
  AuditResult result{json.at("version").get<std::string>(),
                     read_settings(json.at("settings")),
                     read_shard(json.at("shard")),
                     {}};
  std::set<std::string> names;
  for (const Json& cell : json.at("cells")) {
    const AuditCell read = read_cell(cell);
    require(names.insert(cell_name(read)).second, "a cell twice");
    result.cells.push_back({read, read_tally(cell, result.settings, read)});
  }
  require(!result.cells.empty(), "no cells");
  return result;
}

} // namespace

std::string audit_json(const AuditResult& result) {
  const AuditSettings& settings = result.settings;
  Json methods = Json::array();
  for (const Method method : settings.methods)
    methods.push_back(to_string(method));
  Json criteria = Json::array();
  for (const AuditCriterion& criterion : settings.criteria)
    criteria.push_back(to_json(criterion));
  Json json{{"schema", audit_schema},
            {"version", result.version},
            {"shard", {{"index", result.shard.index}, {"of", result.shard.count}}},
            {"settings",
             {{"trials", settings.trials},
              {"seed", settings.seed},
              {"level", settings.level},
              {"within_animal_variation_scale", settings.priors.within_animals.scale},
              {"between_animal_variation_scale", settings.priors.mean.between_animals.scale},
              {"prior_middle_eggs", settings.priors.mean.middle_eggs},
              {"prior_cv_ratio", settings.priors.mean.cv_ratio},
              {"methods", methods},
              {"criteria", criteria}}},
            {"cells", Json::array()}};
  for (const AuditedCell& cell : result.cells)
    json["cells"].push_back(to_json(cell, settings));
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

AuditResult read_audit_json(std::string_view json, const std::string& source) {
  return read_json(json, source, "no result of an audit", "the JSON of an audit", read_result);
}

} // namespace eggfall
