#include "simulation/audit_grid.hpp"

#include "eggfall/base/error.hpp"
#include "formats/toml_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace eggfall {
namespace {

constexpr std::string_view audit_grid_schema = "eggfall.audit-grid/1";
constexpr std::size_t most_cells = 10'000;

/// A number without the rounding noise that a division by 100 and back leaves.
double clean(double value) {
  constexpr double digits = 1e9;
  return std::round(value * digits) / digits;
}

std::size_t to_whole(double value) {
  constexpr double most = 1e9;
  if (!(value >= 0 && value <= most) || value != std::floor(value))
    throw InputError(fmt::format("found {:g}; expected a whole number", value));
  return static_cast<std::size_t>(value);
}

template <double CountModel::*member> std::optional<double> get_number(const AuditFarm& farm) {
  return farm.model.*member;
}
template <double CountModel::*member> void set_number(AuditFarm& farm, double value) {
  farm.model.*member = value;
}
template <double CountModel::*member> std::optional<double> get_percent(const AuditFarm& farm) {
  return clean(100 * farm.model.*member);
}
template <double CountModel::*member> void set_percent(AuditFarm& farm, double value) {
  farm.model.*member = value / 100;
}
template <std::size_t CountModel::*member> std::optional<double> get_size(const AuditFarm& farm) {
  return static_cast<double>(farm.model.*member);
}
template <std::size_t CountModel::*member> void set_size(AuditFarm& farm, double value) {
  farm.model.*member = to_whole(value);
}
template <MultiplicationFactor CountModel::*member>
std::optional<double> get_factor(const AuditFarm& farm) {
  return (farm.model.*member).value();
}
template <MultiplicationFactor CountModel::*member> void set_factor(AuditFarm& farm, double value) {
  farm.model.*member = MultiplicationFactor(value);
}

template <typename T, typename Parse, typename Texts>
std::vector<T> named(const Section& section, std::string_view key, Parse&& parse,
                     const Texts& all) {
  std::vector<T> values;
  for (const std::string& word : section.texts(key)) {
    const std::optional<T> value = parse(word);
    if (!value) {
      std::string list;
      for (const T each : all)
        list += (list.empty() ? "" : ", ") + std::string(to_string(each));
      section.refuse_key(key, in_quotes(word), "one of " + list);
    }
    values.push_back(*value);
  }
  return values;
}

FarmValues read_values(const Section& section) {
  std::vector<std::string_view> keys{"design", "shape"};
  for (const FarmField& field : farm_fields())
    keys.push_back(field.key);
  section.allow_only(keys);
  FarmValues values;
  values.designs = named<Design>(section, "design", parse_design, all_designs);
  values.shapes = named<LevelShape>(section, "shape", parse_level_shape, all_level_shapes);
  for (const FarmField& field : farm_fields())
    if (section.has(field.key))
      values.numbers.emplace(field.key, section.numbers(field.key));
  return values;
}

std::vector<AuditFarm> read_section(const Section& section) {
  try {
    return combinations(read_values(section));
  } catch (const InputError& error) {
    if (!error.problems().empty())
      throw;
    section.refuse(fmt::format("cells that cannot be ({})", error.what()), "values in range");
  }
}

} // namespace

const std::vector<FarmField>& farm_fields() {
  using M = CountModel;
  static const std::vector<FarmField> fields{
      {"animals", "Animals in the treated group, or pools of them", get_size<&M::animals>,
       set_size<&M::animals>},
      {"control_animals", "Animals in the control group", get_size<&M::control_animals>,
       set_size<&M::control_animals>},
      {"animals_in_pool", "Animals whose samples are mixed in each pool",
       get_size<&M::animals_in_pool>, set_size<&M::animals_in_pool>},
      {"eggs", "Eggs seen a head before treatment, on average, at factor_before",
       get_number<&M::mean_eggs>, set_number<&M::mean_eggs>},
      {"k", "Aggregation parameter of the animals' levels", get_number<&M::k>, set_number<&M::k>},
      {"k_after", "The same in treated animals after treatment, at most k",
       [](const AuditFarm& farm) { return farm.model.k_after; },
       [](AuditFarm& farm, double value) { farm.model.k_after = value; }},
      {"within_cv", "Variation between two samples of one animal (CV)", get_number<&M::within_cv>,
       set_number<&M::within_cv>},
      {"weighing_cv", "Variation of the faeces truly in a sample about the mass written down (CV)",
       get_number<&M::weighing_cv>, set_number<&M::weighing_cv>},
      {"efficacy_percent", "Efficacy in a dosed animal, percent", get_percent<&M::efficacy>,
       set_percent<&M::efficacy>},
      {"efficacy_cv", "Variation between animals of what the drench leaves (CV)",
       get_number<&M::efficacy_cv>, set_number<&M::efficacy_cv>},
      {"undosed_percent", "Treated animals that got no drench, percent", get_percent<&M::undosed>,
       set_percent<&M::undosed>},
      {"underdosed_percent", "Of the others, those given too little, percent",
       get_percent<&M::underdosed>, set_percent<&M::underdosed>},
      {"underdose_effect_percent", "What too little removes, percent of what a full dose does",
       get_percent<&M::underdose_effect>, set_percent<&M::underdose_effect>},
      {"without_worms_percent", "Animals without worms, percent", get_percent<&M::without_worms>,
       set_percent<&M::without_worms>},
      {"missing_after_percent", "Animals not found again, percent", get_percent<&M::missing_after>,
       set_percent<&M::missing_after>},
      {"worm_share_percent",
       "Share of the eggs before treatment that is of the worm in question, told by larval culture",
       get_percent<&M::worm_share>, set_percent<&M::worm_share>},
      {"other_efficacy_percent", "Efficacy against the other worms, percent",
       get_percent<&M::other_efficacy>, set_percent<&M::other_efficacy>},
      {"larvae", "Larvae told apart in each culture", get_size<&M::larvae>, set_size<&M::larvae>},
      {"season_change", "Change of all counts between the two days, times",
       get_number<&M::season_change>, set_number<&M::season_change>},
      {"counts_a_sample", "Counts of each sample, added up", get_size<&M::counts_a_sample>,
       set_size<&M::counts_a_sample>},
      {"factor_before", "EPG per egg seen before treatment", get_factor<&M::factor_before>,
       set_factor<&M::factor_before>},
      {"factor_after", "EPG per egg seen after treatment", get_factor<&M::factor_after>,
       set_factor<&M::factor_after>},
  };
  return fields;
}

std::vector<AuditFarm> combinations(const FarmValues& values) {
  for (const auto& [key, list] : values.numbers)
    if (std::ranges::find(farm_fields(), key, &FarmField::key) == farm_fields().end())
      throw InputError("no field of a cell is named " + in_quotes(key));
  std::vector<AuditFarm> farms{AuditFarm()};
  const auto multiply = [&farms](const auto& list, auto&& set) {
    if (list.empty())
      return;
    if (farms.size() * list.size() > most_cells)
      throw InputError(fmt::format("found more than {0} cells; expected at most {0}", most_cells));
    std::vector<AuditFarm> more;
    for (const AuditFarm& farm : farms)
      for (const auto& value : list) {
        more.push_back(farm);
        set(more.back(), value);
      }
    farms = std::move(more);
  };
  multiply(values.designs, [](AuditFarm& farm, Design design) { farm.design = design; });
  multiply(values.shapes, [](AuditFarm& farm, LevelShape shape) { farm.model.shape = shape; });
  for (const FarmField& field : farm_fields())
    if (const auto found = values.numbers.find(field.key); found != values.numbers.end())
      multiply(found->second, [&field](AuditFarm& farm, double value) {
        try {
          field.set(farm, value);
        } catch (const InputError& error) {
          throw InputError(fmt::format("{}: {}", field.key, error.what()));
        }
      });
  for (AuditFarm& farm : farms) {
    if (!values.numbers.contains("factor_after"))
      farm.model.factor_after = farm.model.factor_before;
    if (farm.design != Design::paired && !values.numbers.contains("control_animals"))
      farm.model.control_animals = farm.model.animals;
    check(farm);
  }
  return farms;
}

std::vector<AuditFarm> read_audit_grid(std::string_view toml, const std::string& source) {
  return read_toml(toml, source, audit_grid_schema, [](const Section& root) {
    root.allow_only({"schema", "cells"});
    std::vector<AuditFarm> farms;
    std::set<std::string> names;
    root.each("cells", [&](const Section& section) {
      for (const AuditFarm& farm : read_section(section)) {
        if (!names.insert(farm_key(farm)).second)
          section.refuse("a cell that was there before (" + farm_key(farm) + ")", "each cell once");
        farms.push_back(farm);
      }
      if (farms.size() > most_cells)
        section.refuse(fmt::format("more than {} cells", most_cells), "fewer");
    });
    if (farms.empty())
      root.refuse("no cells", "at least one section headed [[cells]]");
    return farms;
  });
}

} // namespace eggfall
