#include "simulation/read_scenario.hpp"

#include "simulation/scenario_text.hpp"
#include "support/edge_inputs.hpp"
#include "support/support.hpp"

#include <chrono>
#include <set>
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

} // namespace

TEST_CASE("Numbers at the top of a scenario are every group's, and those in a group its own") {
  const Scenario read = scenario(R"(schema = "eggfall.scenario/1"
name = "two"
title = "Two drenches"
lesson = "A lesson."
ask = "A question?"
farm = "Hollow Ash"
host = "Goat"
worm = "Haemonchus"
date_treated = "2031-05-12"
days_after = 10
mean_kg = 25
eggs = 20
factor_before = 50
shape = "weibull"
[[groups]]
name = "white"
drench = "white drench"
class = "bz + lv"
label_ml_per_kg = 0.25
efficacy_percent = 90
animals = 12
[[groups]]
name = "rest"
role = "control"
eggs = 30
factor_after = 10
shape = "gamma"
)");
  CHECK(read.name == "two");
  CHECK(read.title == "Two drenches");
  CHECK(read.lesson == "A lesson.");
  CHECK(read.ask == "A question?");
  CHECK(read.farm == "Hollow Ash");
  CHECK(read.host == "goats"); // canonical_host()
  CHECK(read.worm == "haemonchus");
  CHECK(read.date_treated == std::chrono::year(2031) / 5 / 12);
  CHECK(read.days_after == 10);
  CHECK(read.mean_kg == 25);
  REQUIRE(read.groups.size() == 2);
  const ScenarioGroup& white = read.groups[0];
  CHECK(white.role == Role::treated);
  CHECK(white.drench == "white drench");
  CHECK(white.classes == std::vector<DrugClass>{DrugClass::bz, DrugClass::lv});
  REQUIRE(white.label);
  CHECK(white.label->ml_per_kg() == 0.25);
  CHECK(white.model.efficacy == 0.9);
  CHECK(white.model.animals == 12);
  CHECK(white.model.mean_eggs == 20);
  CHECK(white.model.shape == LevelShape::weibull);
  // One factor serves both days unless the other is given.
  CHECK(white.model.factor_after == MultiplicationFactor(50));
  const ScenarioGroup& rest = read.groups[1];
  CHECK(rest.role == Role::control);
  CHECK_FALSE(rest.label);
  CHECK(rest.model.mean_eggs == 30);
  CHECK(rest.model.shape == LevelShape::gamma);
  CHECK(rest.model.factor_before == MultiplicationFactor(50));
  CHECK(rest.model.factor_after == MultiplicationFactor(10));
}

TEST_CASE("What a scenario does not say is taken from its defaults") {
  const Scenario read = scenario("schema = \"eggfall.scenario/1\"\nname = \"bare\"\n"
                                 "[[groups]]\nname = \"white\"\n");
  CHECK(read.title == "bare");
  CHECK(read.host == "sheep");
  CHECK_FALSE(read.date_treated);
  CHECK(read.days_after == 14);
  CHECK(read.worm == "worm");
  CHECK(read.other_worm == "others");
  CHECK(read.groups.front().role == Role::treated);
  CHECK(read.groups.front().classes.empty());
  CHECK(read.groups.front().model.animals == CountModel().animals);
}

TEST_CASE("A scenario that cannot be is refused where it stands") {
  const auto refused = [](const std::string& more) {
    return support::input_error([&] { scenario(small + more); });
  };
  CHECK_THAT(refused("[[groups]]\nname = \"white\"\n"), Catch::Contains("\"white\" twice"));
  CHECK_THAT(refused("[[groups]]\nname = \"keepers\"\nrole = \"control\"\n"),
             Catch::Contains("2 controls"));
  CHECK_THAT(refused("colour = 3\n"),
             Catch::Contains("small.toml:") && Catch::Contains("unknown key \"colour\""));
  CHECK_THAT(refused("[[groups]]\nname = \"x\"\nk = [1, 2]\n"), Catch::Contains("2 numbers"));
  CHECK_THAT(refused("[[groups]]\nname = \"x\"\nk = 0.01\n"), Catch::Contains("expected 0.05"));
  CHECK_THAT(refused("[[groups]]\nname = \"x\"\nanimals = 2.5\n"),
             Catch::Contains("expected a whole number"));
  CHECK_THAT(refused("[[groups]]\nname = \"x\"\nclass = \"XY\"\n"), Catch::Contains("\"XY\""));
  CHECK_THAT(
      support::input_error([] { scenario("schema = \"eggfall.scenario/1\"\nname = \"A b\"\n"); }),
      Catch::Contains("a word of a-z"));
  CHECK_THAT(
      support::input_error([] { scenario("schema = \"eggfall.scenario/1\"\nname = \"a\"\n"); }),
      Catch::Contains("groups: found 0"));
  CHECK_THAT(support::input_error([] { built_in_scenario("moon"); }),
             Catch::Contains("\"moon\"") && Catch::Contains("few-eggs"));
}

TEST_CASE("Words of a scenario that mean nothing are refused with what is expected") {
  const auto refused = [](const std::string& at_the_top, const std::string& in_the_group = "") {
    return support::input_error([&] {
      scenario("schema = \"eggfall.scenario/1\"\nname = \"a\"\n" + at_the_top +
               "[[groups]]\nname = \"white\"\n" + in_the_group);
    });
  };
  CHECK_THAT(refused("date_treated = \"12 May\"\n"),
             Catch::Contains("small.toml:3:") && Catch::Contains("YYYY-MM-DD"));
  CHECK_THAT(refused("shape = \"normal\"\n"), Catch::Contains("gamma, log-normal or weibull"));
  CHECK_THAT(refused("days_after = 61\n"), Catch::Contains("days_after"));
  CHECK_THAT(refused("mean_kg = 0\n"), Catch::Contains("mean_kg"));
  CHECK_THAT(refused("worm = \"Haemonchus\"\nother_worm = \"H. contortus\"\n"),
             Catch::Contains("other_worm: found \"haemonchus\" again"));
  CHECK_THAT(refused("", "class = \"BX\"\n"), Catch::Contains("(is BZ meant?)"));
  CHECK_THAT(refused("", "role = \"watched\"\n"),
             Catch::Contains("small.toml:5:") && Catch::Contains("control"));
  CHECK_THAT(refused("", "label_ml_per_kg = 101\n"), Catch::Contains("label_ml_per_kg"));
  // A group has no control of its own.
  CHECK_THAT(refused("", "control_animals = 5\n"),
             Catch::Contains("unknown key \"control_animals\""));
  CHECK_THAT(support::input_error([] { scenario("name = "); }), Catch::StartsWith("small.toml:1:"));
}

TEST_CASE("Lessons that are compiled in are found by their names, and each has its own") {
  std::set<std::string> names;
  for (const Scenario& lesson : built_in_scenarios()) {
    names.insert(lesson.name);
    CHECK(&built_in_scenario(lesson.name) == &lesson);
  }
  CHECK(names.size() == built_in_scenarios().size());
  CHECK(built_in_scenarios().front().name == "class"); // the one a class works through
}

TEST_CASE("Edge inputs are no scenario, and its edge forms are one") {
  support::check_edge_inputs_refused(
      "s.toml", [](const std::string& bytes) { read_scenario(bytes, "s.toml"); });
  support::check_edge_forms_alike(
      "schema = \"eggfall.scenario/1\"\nname = \"own\"\ntitle = \"Own\"\neggs = 12\n"
      "factor_before = 15\n[[groups]]\nname = \"white\"\nefficacy_percent = 90\n",
      [](const std::string& bytes) { return scenario_text(read_scenario(bytes, "s.toml"), 1); });
}
