#include "simulation/practice.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "formats/json_values.hpp"
#include "formats/toml_reader.hpp"
#include "simulation/read_scenario.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <set>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view practice_schema = "eggfall.practice/1";
constexpr std::string_view practice_truth_schema = "eggfall.practice-truth/1";
constexpr int most_years = 50;
constexpr std::size_t most_farms = 10'000;

std::chrono::year_month_day treated_in(const Practice& practice, int year) {
  const std::chrono::year_month_day first = *practice.test.date_treated;
  const std::chrono::year_month_day day = first + std::chrono::years(year);
  // In a year without a leap day, 28 February takes the place of 29 February.
  return day.ok() ? day : day.year() / day.month() / std::chrono::last;
}

const ScenarioGroup* treated_group(const Scenario& test, std::string_view name) {
  const auto found = std::ranges::find(test.groups, name, &ScenarioGroup::name);
  return found == test.groups.end() || found->role == Role::control ? nullptr : &*found;
}

void check_changes(const Practice& practice, const PracticeFarm& farm) {
  for (const auto& [group, by_year] : farm.efficacy) {
    const std::string where =
        fmt::format("farm {}, group {}", in_quotes(farm.name), in_quotes(group));
    if (treated_group(practice.test, group) == nullptr)
      throw InputError(fmt::format("{}: found no treated group of this name; expected one of those "
                                   "in [[groups]]",
                                   where));
    if (by_year.size() != static_cast<std::size_t>(practice.years))
      throw InputError(fmt::format("{}: found {} efficacies; expected {}, one a year", where,
                                   by_year.size(), practice.years));
  }
}

std::size_t animals_of(const Scenario& test) {
  std::size_t animals = 0;
  for (const ScenarioGroup& group : test.groups)
    animals += group.model.animals * group.model.animals_in_pool;
  return animals;
}

/// The farm's test in one year, the first being year 0.
Scenario test_of(const Practice& practice, const PracticeFarm& farm, int year) {
  Scenario test = practice.test;
  test.farm = farm.name;
  test.date_treated = treated_in(practice, year);
  for (ScenarioGroup& group : test.groups)
    if (const auto changed = farm.efficacy.find(group.name); changed != farm.efficacy.end())
      group.model.efficacy = changed->second[static_cast<std::size_t>(year)];
  return test;
}

PracticeFarm read_farm(const Section& section) {
  section.allow_only({"name", "region", "changes"});
  PracticeFarm farm{section.needed_text("name"), section.text("region").value_or(""), {}};
  section.each("changes", [&](const Section& change) {
    change.allow_only({"group", "efficacy_percent"});
    const std::string group = change.needed_text("group");
    std::vector<double> by_year = change.numbers("efficacy_percent");
    for (double& efficacy : by_year)
      efficacy /= 100;
    if (!farm.efficacy.emplace(group, std::move(by_year)).second)
      change.refuse_key("group", in_quotes(group) + " again", "each group of a farm once");
  });
  return farm;
}

Practice read_practice_root(const Section& root) {
  Practice practice;
  practice.test = read_scenario_with(root, {"years", "farms"});
  const auto years = root.number("years", 1, most_years);
  if (!years || *years != std::floor(*years))
    root.refuse("no whole number of years", fmt::format("years = 1 to {}", most_years));
  practice.years = static_cast<int>(*years);
  root.each("farms", [&](const Section& farm) { practice.farms.push_back(read_farm(farm)); });
  try {
    check(practice);
  } catch (const InputError& error) {
    root.refuse(fmt::format("a practice that cannot be ({})", error.what()), "values in range");
  }
  return practice;
}

} // namespace

void check(const Practice& practice) {
  check(practice.test);
  if (!practice.test.date_treated)
    throw InputError("date_treated: found none; expected the day of the first year's treatment");
  if (practice.years < 1 || practice.years > most_years)
    throw InputError(fmt::format("years: found {}; expected 1 to {}", practice.years, most_years));
  if (practice.farms.empty() || practice.farms.size() > most_farms)
    throw InputError(
        fmt::format("farms: found {}; expected 1 to {}", practice.farms.size(), most_farms));
  // Reading refuses a table in which a single animal alone is of another year, as a slip of the
  // pen. What is simulated must be readable, so that such a practice is refused too.
  if (practice.years > 1 && animals_of(practice.test) < 2)
    throw InputError("groups: found one animal in all, in a practice of several years; expected "
                     "2 or more animals in a year's test");
  std::set<std::string> names;
  for (const PracticeFarm& farm : practice.farms) {
    if (trimmed(farm.name).empty() || !names.insert(farm.name).second)
      throw InputError(
          fmt::format("farms: found {}; expected a name of its own for each",
                      farm.name.empty() ? "one without a name" : in_quotes(farm.name) + " twice"));
    check_changes(practice, farm);
    for (int year = 0; year < practice.years; ++year)
      check(test_of(practice, farm, year));
  }
}

Practice read_practice(std::string_view toml, const std::string& source) {
  return read_toml(toml, source, practice_schema, read_practice_root);
}

std::vector<SimulatedTrial> simulate(const Practice& practice, std::uint64_t seed) {
  check(practice);
  std::vector<SimulatedTrial> trials;
  for (const PracticeFarm& farm : practice.farms)
    for (int year = 0; year < practice.years; ++year) {
      const Scenario test = test_of(practice, farm, year);
      SimulatedTrial simulated = simulate(test, seed, static_cast<std::uint32_t>(trials.size()));
      simulated.trial.name = farm.name;
      for (Group& group : simulated.trial.groups) {
        group.farm = farm.name;
        group.region = farm.region;
        group.year = static_cast<int>(test.date_treated->year());
      }
      trials.push_back(std::move(simulated));
    }
  return trials;
}

std::string practice_truth_json(const Practice& practice, std::uint64_t seed) {
  Json farms = Json::array();
  for (const PracticeFarm& farm : practice.farms) {
    Json years = Json::array();
    for (int year = 0; year < practice.years; ++year) {
      const Scenario test = test_of(practice, farm, year);
      Json groups = Json::array();
      for (const ScenarioGroup& group : test.groups)
        if (group.role == Role::treated)
          groups.push_back({{"group", group.name},
                            {"drench", group.drench},
                            {"true_efficacy_percent", in_percent(true_efficacy(group))}});
      years.push_back({{"year", static_cast<int>(test.date_treated->year())}, {"groups", groups}});
    }
    farms.push_back({{"farm", farm.name}, {"region", farm.region}, {"years", std::move(years)}});
  }
  const Json json{{"schema", practice_truth_schema},
                  {"version", version()},
                  {"seed", seed},
                  {"practice", practice.test.name},
                  {"farms", std::move(farms)}};
  return json.dump(1) + "\n";
}

} // namespace eggfall
