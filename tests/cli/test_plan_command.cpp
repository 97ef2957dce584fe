#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>

namespace {

const std::string small =
    "eggfall plan --epg 600 --class BZ,ML --animals 6,12 --factor 50:1:5 --quick ";

} // namespace

TEST_CASE("plan: the answer does not depend on the threads") {
  const Run one = run(small + "--threads 1 --json -");
  REQUIRE(one.exit_code == 0);
  CHECK(one.output == run(small + "--threads 5 --json -").output);
  CHECK(one.output != run(small + "--seed 2 --json -").output);
  CHECK(one.errors.empty());
}

TEST_CASE("plan: screen, JSON and CSV tell the same design") {
  const ScratchDirectory scratch;
  const Run shown = run(small + "--json '" + scratch.path("p.json") + "' --csv '" +
                        scratch.path("p.csv") + "' --report '" + scratch.path("p.html") + "'");
  REQUIRE(shown.exit_code == 0);
  const auto json = nlohmann::json::parse(read_text(scratch.path("p.json")));
  CHECK(json["designs"].size() == 2);
  CHECK(read_text(scratch.path("p.html")).find("<svg") != std::string::npos);
  REQUIRE(json["recommended"].is_number());
  const auto& design = json["designs"][json["recommended"].get<std::size_t>()];
  const std::string size = std::to_string(design["animals_a_group"].get<int>());
  CHECK(shown.output.find("Take " + size + " animals a group (paired)") != std::string::npos);
  const std::string csv = read_text(scratch.path("p.csv"));
  CHECK(csv.find("paired," + size + ",50,") != std::string::npos);
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 1 + 2 * 5);
}

TEST_CASE("plan: what is named twice is planned once, and the page can go to standard output") {
  const Run once =
      run("eggfall plan --epg 600 --class BZ --animals 6 --factor 50 --quick --report -");
  REQUIRE(once.exit_code == 0);
  CHECK(once.output.find("<!DOCTYPE html>") == 0);
  CHECK(once.output == run("eggfall plan --epg 600 --class BZ,bz --animals 6,6 --factor 50,50 "
                           "--design paired,paired --quick --report -")
                           .output);
}

TEST_CASE("plan: a pilot table needs no counts after treatment") {
  const Run planned = run("eggfall plan --pilot examples/pilot.csv --animals 10 --quick --json -");
  REQUIRE(planned.exit_code == 0);
  const auto json = nlohmann::json::parse(planned.output);
  CHECK(json["pilot"]["animals"] == 10);
  CHECK(json["pilot"]["eggs"] == 60);
  CHECK(json["flock"]["mean_epg"] == 300);
  // But an analysis does.
  CHECK(run("eggfall analyse examples/pilot.csv").exit_code == 2);
}

TEST_CASE("plan: host, worm and class are those of the pilot's table") {
  const ScratchDirectory scratch;
  const std::string table = scratch.path("p.csv");
  const std::string head = "group,host,worm,class,animal,eggs_before,factor\n";
  write_text(table, head + "yard,horses,strongyles,ML,1,4,25\nyard,horses,strongyles,ML,2,7,25\n"
                           "yard,horses,strongyles,ML,3,19,25\n");
  const auto planned = [&](const std::string& options) {
    return run("eggfall plan --quick --animals 10 --pilot '" + table + "' --json - " + options);
  };
  const Run alone = planned("");
  REQUIRE(alone.exit_code == 0);
  const auto json = nlohmann::json::parse(alone.output);
  CHECK(json["flock"]["host"] == "horses");
  CHECK(json["flock"]["worm"] == "strongyles");
  CHECK(json["flock"]["classes"] == nlohmann::json::array({"ML"}));
  CHECK(alone.output == planned("--host horse --worm strongyles --class ML").output);
  CHECK(planned("--class ML,PYR").exit_code == 0);
  const auto refused = [&](const std::string& options, const std::string& message) {
    INFO(options);
    const Run result = planned(options);
    CHECK(result.exit_code == 2);
    CHECK(result.errors.find(message) != std::string::npos);
  };
  refused("--host sheep", "--host sheep: found horses in ");
  refused("--worm ascarids", "--worm ascarids: found strongyles in ");
  refused("--class BZ", "--class BZ: found ML in ");
  write_text(table, head + "a,horses,,ML,1,4,25\na,horses,,ML,2,7,25\nb,sheep,,ML,3,19,25\n");
  refused("", "found horses and sheep; expected one for all groups");
}

TEST_CASE("plan: pools, and EPG typed as eggs, are no pilot counts") {
  const Run pools = run("eggfall plan --quick --pilot examples/pools.csv");
  CHECK(pools.exit_code == 2);
  CHECK(pools.errors.find("examples/pools.csv, line 2: found a pool of 10 animals; expected counts "
                          "of single animals") != std::string::npos);
  const ScratchDirectory scratch;
  const std::string table = scratch.path("p.csv");
  const std::string counts = "a,1,450,50\na,2,300,50\na,3,1200,50\n";
  write_text(table, "group,animal,eggs_before,factor\n" + counts);
  const Run typed = run("eggfall plan --quick --pilot '" + table + "'");
  CHECK(typed.exit_code == 2);
  CHECK(typed.errors.find("these counts look like EPG, not like eggs seen") != std::string::npos);
  CHECK(typed.errors.find("epg_before") != std::string::npos);
  write_text(table, "group,animal,epg_before,factor\n" + counts);
  CHECK(run("eggfall plan --quick --animals 10 --pilot '" + table + "'").exit_code == 0);
}

TEST_CASE("plan: what cannot be is refused with exit code 2 and leaves no file") {
  const ScratchDirectory scratch;
  const auto refused = [&](const std::string& options, const std::string& message) {
    INFO(options);
    const Run result =
        run("eggfall plan --quick " + options + " --json '" + scratch.path("p.json") + "'");
    CHECK(result.exit_code == 2);
    CHECK(result.errors.find(message) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(scratch.path("p.json")));
  };
  refused("", "expected one of them: the mean count expected, or a table of counts");
  refused("--epg 300 --pilot examples/pilot.csv", "found neither or both of --epg and --pilot");
  refused("--epg 300 --factor 50:x", "--factor: found \"50:x\"; expected FACTOR, FACTOR:COST");
  refused("--epg 300 --factor 50:1:2:3", "such as 15:2.5:8");
  refused("--epg 300 --factor 0", "factor");
  refused("--epg 300 --class QQ", "--class: found \"QQ\"; expected BZ, LV, ML, AD, SI or PYR\n");
  refused(
      "--epg 300 --class ivermektin",
      "--class: found \"ivermektin\"; expected BZ, LV, ML, AD, SI or PYR (is ivermectin meant?)");
  refused("--epg 300 --available 7 --class BZ,ML", "7 animals; expected 12 or more");
  refused("--epg 300 --host llamas", "llamas");
  refused("--epg 300 --worm coccidia", "no rule here is for");
  refused("--epg 300 --worm fluke", "no rule here is for");
  refused("--epg 300 --design baseline", "--design");
  refused("--epg 300 --animals 1",
          "--animals: found \"1\"; expected a whole number from 2 to 1000");
  refused("--epg -3", "--epg");
  refused("--pilot no-such.csv", "no-such.csv");
  refused("--epg 300 --trials 50", "--trials");
  refused("--epg 300 --csv - --report -", "expected one of them on standard output");
}
