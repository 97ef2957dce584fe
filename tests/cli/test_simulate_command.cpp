#include "cli/program.hpp"

#include "simulation/read_scenario.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>

TEST_CASE("simulate: what it writes is a test that analyse understands, worms and all") {
  const ScratchDirectory scratch;
  const std::string files = "--counts '" + scratch.path("c.csv") + "' --larvae-table '" +
                            scratch.path("l.csv") + "' --truth '" + scratch.path("t.json") + "'";
  const Run made = run("eggfall simulate --lesson hidden-worm " + files);
  REQUIRE(made.exit_code == 0);
  CHECK(made.errors.empty());
  CHECK(made.output.find("45") == std::string::npos); // the truth stays in its file
  const auto truth = nlohmann::json::parse(read_text(scratch.path("t.json")));
  CHECK(truth["groups"][0]["true_efficacy_percent"] == 45);
  const Run analysed = run("eggfall analyse '" + scratch.path("c.csv") + "' --larvae '" +
                           scratch.path("l.csv") + "' --simulations 0 --json -");
  REQUIRE(analysed.exit_code == 0);
  CHECK(analysed.errors.empty());
  const auto group = nlohmann::json::parse(analysed.output)["trials"][0]["groups"][0];
  CHECK(group["worms"][0]["worm"] == "haemonchus");
  CHECK(group["animals"] == 15);
}

TEST_CASE("simulate: numbers given take the place of the lesson's") {
  const std::string command = "eggfall simulate --lesson class --counts - ";
  const Run made = run(command + "--animals 7 --control-animals 3 --factor-before 25 --seed 9");
  REQUIRE(made.exit_code == 0);
  std::size_t treated = 0;
  std::size_t control = 0;
  std::size_t at_25 = 0;
  for (std::size_t position = 0;
       (position = made.output.find("\r\n", position)) != std::string::npos; position += 2) {
    treated += made.output.compare(position + 2, 6, "white,") == 0 ? 1 : 0;
    control += made.output.compare(position + 2, 10, "untreated,") == 0 ? 1 : 0;
  }
  for (std::size_t position = 0;
       (position = made.output.find(",25,", position)) != std::string::npos; ++position)
    ++at_25;
  CHECK(treated == 7);
  CHECK(control == 3);
  CHECK(at_25 >= 20); // both factors of ten rows
  CHECK(made.output != run(command + "--animals 7 --control-animals 3 --factor-before 25").output);
  CHECK(run(command + "--trials 3").output.starts_with("trial,group,animal,"));
}

TEST_CASE("simulate: what cannot be is refused with exit code 2 and leaves no file") {
  const ScratchDirectory scratch;
  const auto refused = [&](const std::string& options, const std::string& message) {
    INFO(options);
    const Run result =
        run("eggfall simulate " + options + " --counts '" + scratch.path("c.csv") + "'");
    CHECK(result.exit_code == 2);
    CHECK(result.errors.find(message) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(scratch.path("c.csv")));
  };
  refused("--lesson moon", "expected one of class");
  refused("--k 0.001", "expected 0.05");
  refused("--animals 2.5", "--animals: found 2.5; expected a whole number");
  refused("--lesson few-eggs --control-animals 5", "no control group");
  refused("--larvae-table x.csv", "found no cultures");
  refused("--trials 0", "expected a whole number from 1 to");
  refused("--scenario nowhere.toml", "nowhere.toml");
  const Run nothing = run("eggfall simulate");
  CHECK(nothing.exit_code == 2);
  CHECK(nothing.errors.find("--list") != std::string::npos);
}

TEST_CASE("simulate: the guide lists every lesson, and its scenario is one") {
  const std::string guide = read_text(EGGFALL_SOURCE_DIR "/docs/teaching.md");
  std::size_t lessons = 0;
  for (const eggfall::Scenario& scenario : eggfall::built_in_scenarios()) {
    INFO(scenario.name);
    CHECK(guide.find("| `" + scenario.name + "` |") != std::string::npos);
    ++lessons;
  }
  CHECK(lessons == 11);
  constexpr std::string_view opening = "```toml\n";
  const std::size_t start = guide.find(opening) + opening.size();
  const std::string toml = guide.substr(start, guide.find("```", start) - start);
  const ScratchDirectory scratch;
  write_text(scratch.path("paddocks.toml"), toml);
  const Run made = run("eggfall simulate --scenario '" + scratch.path("paddocks.toml") +
                       "' --counts '" + scratch.path("paddocks.csv") + "'");
  CHECK(made.exit_code == 0);
  CHECK(made.errors.empty());
  CHECK(made.output.find("river: 15 animals, LV") != std::string::npos);
}
