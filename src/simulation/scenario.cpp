#include "simulation/scenario.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "statistics/random_draws.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t most_groups = 20;
constexpr double dose_step_ml = 0.1;
constexpr double weight_cv = 0.12;
constexpr std::size_t first_tag = 101;

/// The model by which a group's counts are drawn: its own, but without a control group in it, and
/// without any effect of treatment if the group is itself a control.
CountModel own_model(const ScenarioGroup& group) {
  CountModel model = group.model;
  model.control_animals = 0;
  if (group.role == Role::control) {
    model.efficacy = model.other_efficacy = 0;
    model.efficacy_cv = model.undosed = model.underdosed = 0;
    model.k_after.reset();
  }
  return model;
}

void name_worms(Culture& culture, const Scenario& scenario) {
  for (WormLarvae& each : culture.worms)
    each.worm = each.worm == simulated_worm ? scenario.worm : scenario.other_worm;
}

/// The day of the second samples. The scenario must have a day of treatment.
std::chrono::year_month_day day_after(const Scenario& scenario) {
  return std::chrono::sys_days(*scenario.date_treated) + std::chrono::days(scenario.days_after);
}

/// Gives animals weights, and treated ones the doses that were written down.
void weigh(std::vector<Animal>& animals, const std::vector<AnimalTruth>& truths,
           const ScenarioGroup& group, double mean_kg, const StreamKey& key) {
  RandomStream stream(key);
  for (std::size_t i = 0; i < animals.size(); ++i) {
    constexpr double steps_a_kg = 2; // scales show half kilograms
    const double kg =
        std::max(1.0 / steps_a_kg,
                 std::round(steps_a_kg * mean_kg * gamma_luck(weight_cv, stream)) / steps_a_kg);
    const double full = group.label->dose_ml(kg, dose_step_ml);
    animals[i].weight_kg = kg;
    animals[i].label_ml_per_kg = group.label->ml_per_kg();
    if (group.role == Role::treated)
      animals[i].dose_ml = truths[i].underdosed > 0 ? std::round(10 * full / 2) / 10 : full;
  }
}

void date(std::vector<Animal>& animals, const Scenario& scenario, Role role) {
  for (Animal& animal : animals) {
    animal.date_before = *scenario.date_treated;
    if (role == Role::treated)
      animal.date_treated = *scenario.date_treated;
    if (animal.after)
      animal.date_after = day_after(scenario);
  }
}

} // namespace

void check(const Scenario& scenario) {
  if (scenario.groups.empty() || scenario.groups.size() > most_groups)
    throw InputError(
        fmt::format("groups: found {}; expected 1 to {}", scenario.groups.size(), most_groups));
  if (scenario.days_after < 1 || scenario.days_after > 60)
    throw InputError(fmt::format("days_after: found {}; expected 1 to 60", scenario.days_after));
  if (scenario.date_treated && day_after(scenario).year() > std::chrono::year(last_year))
    throw InputError(fmt::format("date_treated: found {}, with second samples on {}; expected "
                                 "these in the year {} or before",
                                 iso_date(*scenario.date_treated), iso_date(day_after(scenario)),
                                 last_year));
  if (!(scenario.mean_kg >= 0.1 && scenario.mean_kg <= 1000))
    throw InputError(fmt::format("mean_kg: found {:g}; expected 0.1 to 1000", scenario.mean_kg));
  if (scenario.worm == scenario.other_worm)
    throw InputError(
        fmt::format("other_worm: found {} again; expected another worm than worm (names "
                    "of one worm are one)",
                    in_quotes(scenario.other_worm)));
  std::set<std::string> names;
  std::size_t controls = 0;
  for (const ScenarioGroup& group : scenario.groups) {
    if (trimmed(group.name).empty())
      throw InputError("groups: found one without a name; expected a name for each");
    if (is_sum_word(group.name))
      throw InputError(
          fmt::format("groups: found {}, which tables say of a sum; expected another name",
                      in_quotes(group.name)));
    if (!names.insert(group.name).second)
      throw InputError(
          fmt::format("groups: found {} twice; expected each name once", in_quotes(group.name)));
    controls += group.role == Role::control ? 1 : 0;
    if (group.label && group.model.animals_in_pool > 1)
      throw InputError(fmt::format("group {}: found a label rate with pools; expected one of them",
                                   in_quotes(group.name)));
    check(own_model(group));
  }
  if (controls > 1)
    throw InputError(fmt::format("groups: found {} controls; expected at most one", controls));
  if (controls == scenario.groups.size())
    throw InputError("groups: found no treated one; expected at least one");
}

double true_efficacy(const ScenarioGroup& group) {
  return true_efficacy(own_model(group));
}

SimulatedTrial simulate(const Scenario& scenario, std::uint64_t seed, std::uint32_t number) {
  check(scenario);
  SimulatedTrial result;
  result.trial.name = fmt::format("{} {}", scenario.name, number + 1);
  std::size_t tag = first_tag;
  for (const ScenarioGroup& made : scenario.groups) {
    SimulatedTrial alone =
        simulate(own_model(made), {seed, stream_group("scenario", made.name), number});
    Group group = std::move(alone.trial.groups.front());
    group.name = made.name;
    group.role = made.role;
    group.drench = made.drench;
    group.classes = made.classes;
    group.host = scenario.host;
    for (Animal& animal : group.animals)
      animal.tag = fmt::format("{}", tag++);
    name_worms(group.culture_before, scenario);
    name_worms(group.culture_after, scenario);
    if (made.label)
      weigh(group.animals, alone.truths.front(), made, scenario.mean_kg,
            {seed, stream_group("scenario weights", made.name), number});
    if (scenario.date_treated)
      date(group.animals, scenario, made.role);
    result.trial.groups.push_back(std::move(group));
    result.truths.push_back(std::move(alone.truths.front()));
  }
  return result;
}

} // namespace eggfall
