#include "simulation/read_scenario.hpp"

#include "base/date.hpp"
#include "base/enum_names.hpp"
#include "eggfall/base/error.hpp"
#include "formats/toml_reader.hpp"
#include "simulation/audit_grid.hpp"
#include "simulation/scenario_texts.hpp"
#include "trial/drug_words.hpp"
#include "trial/field_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

constexpr std::string_view scenario_schema = "eggfall.scenario/1";

constexpr Names<Role, 2> role_names{{{Role::treated, "treated"}, {Role::control, "control"}}};

/// Whether a section of a scenario may set this field of a farm: a scenario's group has no control
/// of its own.
bool is_field(const FarmField& field) {
  return field.key != "control_animals";
}

std::vector<std::string_view> with_fields(std::vector<std::string_view> keys) {
  keys.emplace_back("shape");
  for (const FarmField& field : farm_fields())
    if (is_field(field))
      keys.push_back(field.key);
  return keys;
}

/// The fields of the model that a section sets.
void read_model(const Section& section, CountModel& model) {
  if (const auto shape = section.text("shape")) {
    const auto known = parse_level_shape(*shape);
    if (!known)
      section.refuse_key("shape", in_quotes(*shape), "gamma, log-normal or weibull");
    model.shape = *known;
  }
  AuditFarm farm;
  farm.model = model;
  for (const FarmField& field : farm_fields()) {
    if (!is_field(field) || !section.has(field.key))
      continue;
    const std::vector<double> values = section.numbers(field.key);
    if (values.size() != 1)
      section.refuse_key(field.key, fmt::format("{} numbers", values.size()), "one number");
    try {
      field.set(farm, values.front());
    } catch (const InputError& error) {
      section.refuse_key(field.key, error.what(), "a number in range");
    }
  }
  // One factor serves both days unless the other is given.
  if (section.has("factor_before") && !section.has("factor_after"))
    farm.model.factor_after = farm.model.factor_before;
  model = farm.model;
}

ScenarioGroup read_group(const Section& section, const CountModel& common) {
  section.allow_only(with_fields({"name", "role", "drench", "class", "label_ml_per_kg"}));
  ScenarioGroup group;
  group.name = section.needed_text("name");
  if (section.has("role"))
    group.role = section.choice("role", role_names);
  group.drench = section.text("drench").value_or("");
  if (const auto text = section.text("class")) {
    const auto classes = parse_drug_classes(*text);
    if (!classes)
      section.refuse_key("class", in_quotes(*text), expected_drug_classes(*text));
    group.classes = *classes;
  }
  if (const auto rate = section.number("label_ml_per_kg", 0.001, 100))
    group.label = LabelDose::by_volume(*rate);
  group.model = common;
  read_model(section, group.model);
  return group;
}

Scenario read_root(const Section& root) {
  return read_scenario_with(root, {});
}

} // namespace

Scenario read_scenario_with(const Section& root, const std::vector<std::string_view>& more_keys) {
  std::vector<std::string_view> keys =
      with_fields({"schema", "name", "title", "lesson", "ask", "farm", "host", "worm", "other_worm",
                   "date_treated", "days_after", "mean_kg", "groups"});
  keys.insert(keys.end(), more_keys.begin(), more_keys.end());
  root.allow_only(keys);
  Scenario scenario;
  scenario.name = root.needed_text("name");
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  };
  if (!std::ranges::all_of(scenario.name, plain))
    root.refuse_key("name", in_quotes(scenario.name), "a word of a-z, 0-9 and -");
  scenario.title = root.text("title").value_or(scenario.name);
  scenario.lesson = root.text("lesson").value_or("");
  scenario.ask = root.text("ask").value_or("");
  scenario.farm = root.text("farm").value_or("");
  const std::string host = root.text("host").value_or("sheep");
  if (auto expected = expected_host(host)) // its counts table could not be read back
    root.refuse_key("host", in_quotes(host), *std::move(expected));
  scenario.host = canonical_host(host);
  if (const auto worm = root.text("worm"))
    scenario.worm = canonical_worm(*worm);
  if (const auto worm = root.text("other_worm"))
    scenario.other_worm = canonical_worm(*worm);
  if (const auto text = root.text("date_treated")) {
    scenario.date_treated = parse_date(*text);
    if (!scenario.date_treated)
      root.refuse_key("date_treated", in_quotes(*text), "a date written \"YYYY-MM-DD\"");
  }
  if (root.has("days_after"))
    scenario.days_after = root.day("days_after");
  scenario.mean_kg = root.number("mean_kg", 0.1, 1000).value_or(scenario.mean_kg);
  CountModel common;
  read_model(root, common);
  root.each("groups", [&](const Section& section) {
    scenario.groups.push_back(read_group(section, common));
  });
  try {
    check(scenario);
  } catch (const InputError& error) {
    root.refuse(fmt::format("a scenario that cannot be ({})", error.what()), "values in range");
  }
  return scenario;
}

Scenario read_scenario(std::string_view toml, const std::string& source) {
  return read_toml(toml, source, scenario_schema, read_root);
}

const std::vector<Scenario>& built_in_scenarios() {
  static const std::vector<Scenario> scenarios = [] {
    std::vector<Scenario> result;
    for (const std::string_view text : scenario_texts())
      result.push_back(read_scenario(text, "a built-in scenario"));
    return result;
  }();
  return scenarios;
}

const Scenario& built_in_scenario(std::string_view name) {
  const auto found = std::ranges::find(built_in_scenarios(), name, &Scenario::name);
  if (found != built_in_scenarios().end())
    return *found;
  std::string list;
  for (const Scenario& scenario : built_in_scenarios())
    list += (list.empty() ? "" : ", ") + scenario.name;
  throw InputError(fmt::format("found the lesson {}; expected one of {}", in_quotes(name), list));
}

} // namespace eggfall
