#include "simulation/scenario_text.hpp"

#include "base/text.hpp"
#include "simulation/read_scenario.hpp"
#include "support/support.hpp"

#include <sstream>
#include <string>

using namespace eggfall;

namespace {

Scenario invented() {
  Scenario scenario;
  scenario.name = "invented";
  scenario.title = "An invented farm";
  scenario.lesson = "Few eggs tell little.";
  scenario.ask = "Does it work?";
  scenario.farm = "Hollow Ash";
  scenario.host = "sheep";
  scenario.groups.resize(3);
  scenario.groups[0].name = "white";
  scenario.groups[0].classes = {DrugClass::bz, DrugClass::lv};
  scenario.groups[0].model.animals = 12;
  scenario.groups[0].model.efficacy = 0.931;
  scenario.groups[1].name = "mixed";
  scenario.groups[1].model.animals = 4;
  scenario.groups[1].model.animals_in_pool = 5;
  scenario.groups[2].name = "rest";
  scenario.groups[2].role = Role::control;
  scenario.groups[2].model.animals = 8;
  return scenario;
}

} // namespace

TEST_CASE("A scenario's text tells farm, groups and question, and never the truth") {
  Scenario scenario = invented();
  CHECK(scenario_text(scenario, 2) == "An invented farm: 2 invented tests, sheep, Hollow Ash\n"
                                      "  white: 12 animals, BZ+LV\n"
                                      "  mixed: 4 pools of 5, treated\n"
                                      "  rest: 8 animals, untreated\n"
                                      "  Ask: Does it work?\n");
  scenario.host.clear();
  scenario.farm.clear();
  scenario.ask.clear();
  scenario.groups.resize(1);
  CHECK(scenario_text(scenario, 1) == "An invented farm: 1 invented test\n"
                                      "  white: 12 animals, BZ+LV\n");
}

TEST_CASE("The list of lessons has name, lesson and question of each") {
  Scenario second = invented();
  second.name = "second";
  CHECK(scenario_list({invented(), second}) ==
        "Lessons for eggfall simulate --lesson NAME:\n"
        "\ninvented: An invented farm\n  Few eggs tell little.\n  Ask: Does it work?\n"
        "\nsecond: An invented farm\n  Few eggs tell little.\n  Ask: Does it work?\n");
}

TEST_CASE("The texts of all lessons fit 80 columns") {
  std::string text = scenario_list(built_in_scenarios());
  for (const Scenario& lesson : built_in_scenarios())
    text += scenario_text(lesson, 20);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(character_count(line) <= 80);
  }
}
