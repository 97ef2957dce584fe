#include "yard.hpp"

#include "eggfall/base/random_stream.hpp"

#include <boost/random/uniform_01.hpp>

#include <chrono>

using namespace eggfall;

Scenario sound(const Yard& yard) {
  Scenario scenario;
  scenario.name = "sound";
  scenario.host = "sheep";
  scenario.date_treated = std::chrono::year(2031) / std::chrono::May / 12;
  scenario.days_after = yard.days_after;
  ScenarioGroup treated;
  treated.name = "white";
  treated.label = LabelDose::by_volume(0.2);
  treated.model.mean_eggs = yard.eggs;
  treated.model.efficacy = yard.efficacy;
  treated.model.season_change = yard.season;
  scenario.groups.push_back(treated);
  if (yard.controls > 0) {
    ScenarioGroup control;
    control.name = "keepers";
    control.role = Role::control;
    control.model = treated.model;
    control.model.animals = yard.controls;
    scenario.groups.push_back(control);
  }
  return scenario;
}

void as_in_a_yard(Group& group, std::uint64_t seed, std::uint32_t number) {
  RandomStream stream({seed, stream_group("yard", group.name), number});
  for (Animal& animal : group.animals)
    if (animal.dose_ml)
      animal.dose_ml =
          *animal.dose_ml * (1 + 0.03 * (2 * boost::random::uniform_01<double>()(stream) - 1));
  group.animals[number % group.animals.size()].after.reset();
}
