#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>

TEST_CASE("analyse: the bundled trial gives a resistant, a clean and an unclear drench") {
  const Run result = run("eggfall analyse examples/brackenhill.csv --json -");
  REQUIRE(result.exit_code == 0);
  const auto groups = nlohmann::json::parse(result.output)["trials"][0]["groups"];
  REQUIRE(groups.size() == 3);
  CHECK(groups[0]["verdicts"][0]["class"] == "resistant");
  CHECK(groups[1]["eggs_after"] == 0);
  CHECK(groups[1]["verdicts"][0]["class"] == "susceptible");
  CHECK(groups[2]["verdicts"][0]["class"] == "inconclusive");
  CHECK(groups[2]["dropped"].size() == 1);
}

TEST_CASE("analyse: repeated counts of one sample are summed") {
  const Run result = run("eggfall analyse examples/repeat-counts.csv --host sheep --json -");
  REQUIRE(result.exit_code == 0);
  const auto group = nlohmann::json::parse(result.output)["trials"][0]["groups"][0];
  CHECK(group["animals"] == 12);
  // Lamb 201: 14 + 11 eggs at 30 / 2 = 15; lamb 210 was counted in one chamber only.
  CHECK(group["per_animal"][0]["eggs_before"] == 25);
  CHECK(group["per_animal"][0]["epg_before"] == 375);
  CHECK(group["per_animal"][9]["epg_before"] == 240);
  CHECK(group["per_animal"][9]["epg_after"] == 15);
}

TEST_CASE("analyse: the same command gives the same bytes") {
  const std::string command = "eggfall analyse examples/brackenhill.csv --json -";
  CHECK(run(command).output == run(command).output);
  CHECK(run(command).output != run(command + " --seed 2").output);
}

TEST_CASE("analyse: JSON and CSV files are written whole, beside the summary") {
  const ScratchDirectory scratch;
  const Run result = run("eggfall analyse examples/brackenhill.csv --json '" +
                         scratch.path("r.json") + "' --csv '" + scratch.path("r.csv") + "'");
  CHECK(result.exit_code == 0);
  CHECK(result.output.find("RESISTANT") != std::string::npos);
  CHECK(nlohmann::json::parse(read_text(scratch.path("r.json")))["schema"] == "eggfall.analysis/2");
  CHECK(read_text(scratch.path("r.csv")).starts_with("trial,group,design,"));
  CHECK_FALSE(std::filesystem::exists(scratch.path("r.json.part")));
}

TEST_CASE("analyse: standard input, and several tables at once") {
  CHECK(run("eggfall analyse - < examples/brackenhill.csv").exit_code == 0);
  const ScratchDirectory scratch;
  write_text(scratch.path("a.csv"), "group,animal,eggs_before,eggs_after\nT,1,9,1\nT,2,8,0\n");
  write_text(scratch.path("b.csv"), "group,animal,eggs_before,eggs_after\nT,1,9,1\nT,2,8,0\n");
  const Run both = run("eggfall analyse '" + scratch.path("a.csv") + "' '" + scratch.path("b.csv") +
                       "' --factor 50 --host sheep");
  CHECK(both.exit_code == 0);
  CHECK(both.output.find("Trial a:") != std::string::npos);
  CHECK(both.output.find("Trial b:") != std::string::npos);
  const Run twice = run("eggfall analyse '" + scratch.path("a.csv") + "' '" +
                        scratch.path("a.csv") + "' --factor 50");
  CHECK(twice.exit_code == 2);
  CHECK(twice.errors.find("found a trial \"a\" again; expected each trial in one table only") !=
        std::string::npos);
}

TEST_CASE("analyse: bad input exits with 2, one message, and leaves no file") {
  const ScratchDirectory scratch;
  write_text(scratch.path("bad.csv"), "group,animal,eggs_before,eggs_after\nT,1,many,1\n");
  const Run result = run("eggfall analyse '" + scratch.path("bad.csv") + "' --factor 50 --json '" +
                         scratch.path("r.json") + "'");
  CHECK(result.exit_code == 2);
  CHECK(result.output.empty());
  CHECK(result.errors ==
        "eggfall: " + scratch.path("bad.csv") +
            ":2: column 3 (eggs_before): found \"many\"; expected a whole number of "
            "eggs seen, 0 or more (leave it empty if not sampled)\n");
  CHECK_FALSE(std::filesystem::exists(scratch.path("r.json")));
}

TEST_CASE("Options that cannot be are refused with exit code 2") {
  for (const char* command :
       {"eggfall",
        "eggfall analyze x.csv",
        "eggfall analyse",
        "eggfall analyse missing.csv",
        "eggfall analyse examples",
        "eggfall analyse examples/brackenhill.csv --level 120",
        "eggfall analyse examples/brackenhill.csv --level x",
        "eggfall analyse examples/brackenhill.csv --level 0.9",
        "eggfall analyse examples/brackenhill.csv --seed 99999999999999999999",
        "eggfall factor --faeces-g 3 --total-ml 45 --wanted 5 --chamber-ml 0",
        "eggfall analyse examples/brackenhill.csv --design pairs",
        "eggfall analyse examples/brackenhill.csv --resamples 1000",
        "eggfall survey examples/region.csv --seed 1",
        "eggfall analyse examples/brackenhill.csv --seed -1",
        "eggfall analyse examples/brackenhill.csv --factor 0",
        "eggfall analyse examples/brackenhill.csv --criteria mine",
        "eggfall analyse examples/brackenhill.csv --cutoffs missing.toml",
        "eggfall analyse examples/brackenhill.csv --json - --csv -",
        "eggfall analyse examples/brackenhill.csv --json /nowhere/at/all.json",
        "eggfall factor",
        "eggfall factor --faeces-g 3 --total-ml 45",
        "eggfall cutoffs nobody"}) {
    INFO(command);
    const Run result = run(command);
    CHECK(result.exit_code == 2);
    CHECK(result.errors.starts_with("eggfall: "));
  }
}

TEST_CASE("A word that is no command is told with those that are, and the nearest asked about") {
  const Run american = run("eggfall analyze examples/brackenhill.csv");
  CHECK(american.exit_code == 2);
  CHECK(american.errors.find("found \"analyze\"; expected a command (is analyse meant?): analyse, "
                             "read,") != std::string::npos);
  const Run table = run("eggfall examples/brackenhill.csv");
  CHECK(table.exit_code == 2);
  CHECK(table.errors.find("found \"examples/brackenhill.csv\"; expected a command: analyse") !=
        std::string::npos);
}

TEST_CASE("A host that is nearly one that is known is refused wherever it is told") {
  for (const std::string command :
       {"analyse examples/lab-sheet.csv --factor 50", "read examples/lab-sheet.csv --factor 50",
        "sheet --animals 5 --group clear:ML --counts -", "plan --class ML --epg 300 --factor 50",
        "audit --class ML"}) {
    INFO(command);
    const Run result = run("eggfall " + command + " --host shep");
    CHECK(result.exit_code == 2);
    CHECK(result.errors.find("--host: found \"shep\"; expected a host that is known (is sheep "
                             "meant?)") != std::string::npos);
  }
}

TEST_CASE("factor: published and practice examples") {
  // Cork & Lejeune, The Veterinary Laboratory and Field Manual, 3rd ed., p. 120.
  const Run cork = run("eggfall factor --faeces-g 3 --total-ml 45 --chambers 1 --chamber-ml 0.15 "
                       "--eggs 4 --json -");
  REQUIRE(cork.exit_code == 0);
  const auto json = nlohmann::json::parse(cork.output);
  CHECK(json["factor"].get<double>() == Approx(100));
  CHECK(json["epg"].get<double>() == Approx(400));
  const Run wanted = run("eggfall factor --faeces-g 4 --added-ml 26 --chamber-ml 0.15 --wanted 5");
  CHECK(wanted.exit_code == 0);
  CHECK(wanted.output.find("For a factor of 5     count 1.5 mL (10 chambers of 0.15 mL)") !=
        std::string::npos);
}

TEST_CASE("cutoffs: list, explain, check") {
  CHECK(run("eggfall cutoffs").output.find("waavp-2023-research") != std::string::npos);
  CHECK(run("eggfall cutoffs waavp-1992").output.find("Coles et al. 1992") != std::string::npos);
  const Run own = run("eggfall cutoffs --file examples/own-cut-offs.toml");
  CHECK(own.exit_code == 0);
  CHECK(own.output.starts_with("examples/own-cut-offs.toml is in order."));
  const Run used =
      run("eggfall analyse examples/brackenhill.csv --cutoffs examples/own-cut-offs.toml "
          "--json -");
  REQUIRE(used.exit_code == 0);
  const auto verdict = nlohmann::json::parse(used.output)["trials"][0]["groups"][0]["verdicts"][0];
  CHECK(verdict["criteria"] == "brackenhill-vets");
  CHECK(verdict["provenance"] == "user");
}

TEST_CASE("Every command explains itself") {
  CHECK(run("eggfall --version").exit_code == 0);
  const std::vector<std::string> commands = all_commands();
  REQUIRE(commands.size() >= 9);
  for (const std::string& command : commands) {
    INFO(command);
    const Run help = run("eggfall " + command + " --help");
    CHECK(help.exit_code == 0);
    CHECK(help.output.find("Example: eggfall " + command) != std::string::npos);
  }
}

TEST_CASE("Outputs never destroy inputs, each other or a device") {
  const ScratchDirectory scratch;
  const std::string table = "group,animal,eggs_before,eggs_after\nT,1,9,1\nT,2,8,0\n";
  write_text(scratch.path("in.csv"), table);
  const std::string analyse = "eggfall analyse '" + scratch.path("in.csv") + "' --factor 50 ";
  CHECK(run(analyse + "--csv '" + scratch.path("in.csv") + "'").exit_code == 2);
  CHECK(read_text(scratch.path("in.csv")) == table);
  CHECK(run(analyse + "--csv '" + scratch.path("x") + "' --json '" + scratch.path("x") + "'")
            .exit_code == 2);
  CHECK(run(analyse + "--csv /dev/null").exit_code == 0);
  CHECK(std::filesystem::is_character_file("/dev/null"));
  CHECK(run(analyse + "--json '" + scratch.path("y.json") + "' --csv /nowhere/y.csv").exit_code ==
        2);
  CHECK_FALSE(std::filesystem::exists(scratch.path("y.json")));
  write_text(scratch.path("target"), "old");
  std::filesystem::create_symlink(scratch.path("target"), scratch.path("link"));
  CHECK(run(analyse + "--json '" + scratch.path("link") + "'").exit_code == 0);
  CHECK(std::filesystem::is_symlink(scratch.path("link")));
  CHECK(read_text(scratch.path("target")).starts_with("{"));
  CHECK(run(analyse + "> /dev/full").exit_code == 2);
}

TEST_CASE("Names that are no words are shown all the same") {
  const ScratchDirectory scratch;
  write_text(scratch.path("in.csv"), "group,animal,eggs_before,eggs_after\n" +
                                         std::string(120, 'x') + ",1,9,1\n" +
                                         std::string(120, 'x') + ",2,8,0\n");
  const std::string analyse = "eggfall analyse '" + scratch.path("in.csv") + "' --factor 50 ";
  CHECK(run(analyse).exit_code == 0);
}

TEST_CASE("analyse: the bundled combination, ranked and beside its parts") {
  const Run result = run("eggfall analyse examples/combination.csv --json -");
  REQUIRE(result.exit_code == 0);
  const auto trial = nlohmann::json::parse(result.output)["trials"][0];
  CHECK(trial["ranking"]["groups"][0]["group"] == "clear");
  CHECK(trial["ranking"]["left_out"].empty());
  REQUIRE(trial["combinations"].size() == 1);
  // By hand from the eggs seen: 1 - (after/3/before of white) x (the same of yellow), the factors
  // being 15 and 5.
  const auto left = [&](std::size_t group) {
    const auto& counted = trial["groups"][group];
    return counted["eggs_after"].get<double>() / 3 / counted["eggs_before"].get<double>();
  };
  // JSON has six decimals, of which half of the last would be 5e-9 of this percentage; these eggs
  // give 95.510761069, which is rounded by less than 1e-9 of it.
  CHECK_THAT(trial["combinations"][0]["expected_percent"].get<double>(),
             Catch::Matchers::WithinRel(100 * (1 - left(0) * left(1)), 1e-9));
}
