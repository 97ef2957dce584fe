#include "eggfall/audit_json.hpp"

#include "eggfall/audit_grid.hpp"
#include "eggfall/audit_summary.hpp"
#include "eggfall/error.hpp"
#include "eggfall/text.hpp"
#include "eggfall/version.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <stdexcept>

namespace eggfall {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view schema = "eggfall.audit/1";

/// A proportion in percent, without the noise of the multiplication.
double in_percent(double proportion) {
  constexpr double digits = 1e9;
  return std::round(100 * digits * proportion) / digits;
}

Json in_percent(const std::optional<double>& proportion) {
  return proportion ? Json(in_percent(*proportion)) : Json(nullptr);
}

Json to_json(const Share& share) {
  return {{"percent", 100 * share.value}, {"error", 100 * share.error}};
}

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

Json classes_json(const std::vector<ClassTally>& classes, const AuditSettings& settings,
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

/// The value that a name stands for. @throws std::invalid_argument if there is none.
template <typename Parse> auto named(const Json& name, Parse&& parse) {
  const auto value = parse(name.get<std::string>());
  if (!value)
    throw std::invalid_argument("the unknown name " + in_quotes(name.get<std::string>()));
  return *value;
}

AuditCriterion read_criterion(const Json& json) {
  AuditCriterion criterion;
  criterion.name = json.at("criteria");
  criterion.title = json.at("title");
  criterion.rule = named(json.at("rule"), parse_rule);
  criterion.level = json.at("level");
  if (!json.at("method").is_null())
    criterion.method = named(json.at("method"), parse_method);
  criterion.cut_off.expected = json.at("expected_percent").get<double>() / 100;
  if (!json.at("lower_percent").is_null())
    criterion.cut_off.lower = json.at("lower_percent").get<double>() / 100;
  criterion.cut_off.citation = {json.at("source"), named(json.at("provenance"), parse_provenance)};
  return criterion;
}

AuditSettings read_settings(const Json& json) {
  AuditSettings settings;
  settings.trials = json.at("trials");
  settings.resamples = json.at("resamples");
  settings.seed = json.at("seed");
  settings.level = json.at("level");
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

void read_method(MethodTally& tally, const Json& json) {
  if (named(json.at("method"), parse_method) != tally.method)
    throw std::invalid_argument("a method out of place");
  tally.held = json.at("held");
  tally.truth_above = json.at("truth_above");
  tally.truth_below = json.at("truth_below");
  tally.unusable = json.at("unusable");
  tally.width = json.at("width_sum");
  for (std::size_t c = 0; c < tally.classes.size(); ++c)
    for (std::size_t v = 0; v < verdict_classes; ++v)
      tally.classes[c][v] = json.at("verdicts")
                                .at(c)
                                .at("classes")
                                .at(std::string(to_string(static_cast<VerdictClass>(v))))
                                .at("trials");
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

AuditResult read_result(const Json& json) {
  if (json.at("schema") != schema)
    throw std::invalid_argument("another schema");
  std::vector<AuditCell> cells;
  for (const Json& cell : json.at("cells"))
    cells.push_back(read_cell(cell));
  const Shard shard{json.at("shard").at("index"), json.at("shard").at("of")};
  constexpr std::size_t most_parts = 1'000'000;
  if (shard.index < 1 || shard.index > shard.of || shard.of > most_parts)
    throw std::invalid_argument("an impossible part");
  AuditResult result = empty_result(cells, read_settings(json.at("settings")), shard);
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const Json& from = json.at("cells").at(c);
    CellTally& tally = result.cells[c].tally;
    tally.trials = from.at("trials");
    tally.without_estimate = from.at("without_estimate");
    tally.none_after = from.at("none_after");
    tally.reduction = from.at("reduction_sum");
    for (std::size_t m = 0; m < tally.methods.size(); ++m)
      read_method(tally.methods[m], from.at("methods").at(m));
    for (const MethodTally& method : tally.methods)
      if (method.held + method.truth_above + method.truth_below + method.unusable +
              tally.without_estimate !=
          tally.trials)
        throw std::invalid_argument("tallies that do not add up");
  }
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
  Json json{{"schema", schema},
            {"version", version()},
            {"shard", {{"index", result.shard.index}, {"of", result.shard.of}}},
            {"settings",
             {{"trials", settings.trials},
              {"resamples", settings.resamples},
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
  std::string why;
  try {
    return read_result(Json::parse(json));
  } catch (const Json::exception& error) {
    why = error.what();
  } catch (const InputError& error) {
    why = error.what();
  } catch (const std::invalid_argument& error) {
    why = error.what();
  }
  throw InputError({Problem{source,
                            0,
                            0,
                            {},
                            fmt::format("no result of an audit ({})", without_controls(why)),
                            "what --json of eggfall audit wrote"}});
}

} // namespace eggfall
