#include "simulation/scenario.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "simulation/read_scenario.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

constexpr const char* small = R"(schema = "eggfall.scenario/1"
name = "small"
eggs = 20
k = 2
[[groups]]
name = "white"
efficacy_percent = 90
[[groups]]
name = "clear"
efficacy_percent = 60
[[groups]]
name = "none"
role = "control"
efficacy_percent = 90
)";

Scenario scenario(const std::string& toml = small) {
  return read_scenario(toml, "small.toml");
}

std::vector<std::uint32_t> eggs(const Group& group, std::optional<Count> Animal::*occasion) {
  std::vector<std::uint32_t> result;
  for (const Animal& animal : group.animals)
    result.push_back((animal.*occasion)->eggs.value());
  return result;
}

/// The fall of a group's sums over many tests, of which the truth is the limit.
double fall_of_many(const Scenario& scenario, std::size_t group) {
  double before = 0;
  double after = 0;
  for (std::uint32_t number = 0; number < 3'000; ++number) {
    const SimulatedTrial simulated = simulate(scenario, 5, number);
    for (const std::uint32_t n : eggs(simulated.trial.groups[group], &Animal::before))
      before += n;
    for (const std::uint32_t n : eggs(simulated.trial.groups[group], &Animal::after))
      after += n;
  }
  return 1 - after / before;
}

} // namespace

TEST_CASE("A scenario's groups have their own truth, and its control none") {
  const Scenario three = scenario();
  CHECK(true_efficacy(three.groups[0]) == 0.9);
  CHECK(true_efficacy(three.groups[2]) == 0);
  // 45,000 animals, CV of a head's ratio about 1: the standard error of the fall is below 0.01.
  constexpr double error = 0.01;
  CHECK_THAT(fall_of_many(three, 0), Catch::WithinAbs(0.9, error));
  CHECK_THAT(fall_of_many(three, 1), Catch::WithinAbs(0.6, 2 * error));
  CHECK_THAT(fall_of_many(three, 2), Catch::WithinAbs(0, 4 * error));
}

TEST_CASE("A change of one group of a scenario leaves the others' luck as it was") {
  Scenario changed = scenario();
  changed.groups[0].model.efficacy = 0.2;
  changed.groups[0].model.animals = 15;
  const SimulatedTrial one = simulate(scenario(), 3, 0);
  const SimulatedTrial other = simulate(changed, 3, 0);
  CHECK(eggs(one.trial.groups[0], &Animal::after) != eggs(other.trial.groups[0], &Animal::after));
  for (const std::size_t group : {1U, 2U})
    for (const auto occasion : {&Animal::before, &Animal::after})
      CHECK(eggs(one.trial.groups[group], occasion) == eggs(other.trial.groups[group], occasion));
  CHECK(eggs(one.trial.groups[1], &Animal::before) !=
        eggs(simulate(scenario(), 3, 1).trial.groups[1], &Animal::before));
}

TEST_CASE("Every lesson's tables are read back as they were drawn") {
  REQUIRE(built_in_scenarios().size() >= 10);
  for (const Scenario& lesson : built_in_scenarios()) {
    INFO(lesson.name);
    CHECK_FALSE(lesson.lesson.empty());
    CHECK_FALSE(lesson.ask.empty());
    const std::vector<Trial> trials{simulate(lesson, 1, 0).trial, simulate(lesson, 1, 1).trial};
    TrialTable table = read_trials(counts_table(trials), {"counts.csv"}, {});
    CHECK(table.notes.empty());
    const std::string larvae = larvae_table(trials);
    if (!larvae.empty())
      table = read_cultures(larvae, {"larvae.csv"}, std::move(table.trials));
    REQUIRE(table.trials.size() == 2);
    for (Trial& trial : table.trials)
      for (Group& group : trial.groups) {
        group.year.reset(); // the reader's, from the date of treatment
      }
    CHECK(counts_table(table.trials) == counts_table(trials));
    CHECK(larvae_table(table.trials) == larvae);
    for (std::size_t t = 0; t < 2; ++t) {
      CHECK(table.trials[t].name == trials[t].name);
      for (std::size_t g = 0; g < trials[t].groups.size(); ++g) {
        const Group& read = table.trials[t].groups[g];
        const Group& drawn = trials[t].groups[g];
        CHECK(read.role == drawn.role);
        CHECK(read.classes == drawn.classes);
        CHECK(read.culture_after == drawn.culture_after);
        REQUIRE(read.animals.size() == drawn.animals.size());
        for (std::size_t i = 0; i < read.animals.size(); ++i) {
          CHECK(read.animals[i].before->epg() == drawn.animals[i].before->epg());
          CHECK(read.animals[i].after.has_value() == drawn.animals[i].after.has_value());
          CHECK(read.animals[i].dose_ml == drawn.animals[i].dose_ml);
          CHECK(read.animals[i].date_after == drawn.animals[i].date_after);
        }
      }
    }
  }
}

TEST_CASE("A counts table holds pools, eggs told apart, and names that look like formulas") {
  Trial trial;
  trial.name = "=1+1";
  trial.groups.resize(1);
  trial.groups[0].name = "white, \"old\"";
  trial.groups[0].host = "sheep";
  trial.groups[0].year = 2030;
  Animal animal;
  animal.tag = "pool; 1";
  animal.before = Count{EggsSeen(7), MultiplicationFactor(50.0 / 3), 12};
  animal.after = Count{EggsSeen(0), MultiplicationFactor(5), 12};
  animal.kinds["nematodirus"] = {Count{EggsSeen(2), MultiplicationFactor(50.0 / 3), 12},
                                 Count{EggsSeen(1), MultiplicationFactor(5), 12}};
  trial.groups[0].animals.push_back(animal);
  Trial second = trial;
  second.name = "two";
  const TrialTable read = read_trials(counts_table({trial, second}), {"counts.csv"}, {});
  REQUIRE(read.trials.size() == 2);
  CHECK(read.trials[0].name == "'=1+1"); // the apostrophe that keeps a spreadsheet from it
  const Group& group = read.trials[1].groups.at(0);
  CHECK(group.name == trial.groups[0].name);
  CHECK(group.year == 2030);
  const Animal& back = group.animals.at(0);
  CHECK(back.tag == animal.tag);
  CHECK(back.before->factor == animal.before->factor);
  CHECK(back.before->animals == 12);
  CHECK(back.kinds.at("nematodirus").before->eggs == EggsSeen(2));
  CHECK(back.kinds.at("nematodirus").after->eggs == EggsSeen(1));
  trial.groups[0].animals[0].tag = " ";
  CHECK_THAT(support::input_error([&] { counts_table({trial}); }),
             Catch::Contains("animal: found an empty name"));
}

TEST_CASE(
    "A counts table has the factor and the pool of a sample of which a kind alone was counted") {
  Animal animal;
  animal.tag = "1";
  animal.kinds["nematodirus"] = {std::nullopt, Count{EggsSeen(1), MultiplicationFactor(5), 12}};
  Group group;
  group.name = "white";
  group.host = "sheep";
  group.animals = {animal};
  const TrialTable read = read_trials(counts_table({{"one", {group}}}), {"counts.csv"}, {});
  const Animal& back = read.trials.at(0).groups.at(0).animals.at(0);
  CHECK_FALSE(back.after);
  const std::optional<Count>& count = back.kinds.at("nematodirus").after;
  REQUIRE(count);
  CHECK(count->factor == MultiplicationFactor(5));
  CHECK(count->animals == 12);
}

TEST_CASE("A scenario whose second samples no table may hold is refused") {
  Scenario late = scenario();
  late.date_treated = std::chrono::year(2200) / 12 / 25;
  CHECK_THAT(support::input_error([&] { check(late); }),
             Catch::Contains("second samples on 2201-01-08"));
}
