#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>

namespace {

const std::string quick = "eggfall audit --animals 6 --trials 120 ";

} // namespace

TEST_CASE("audit: the answer does not depend on the threads") {
  const Run one = run(quick + "--threads 1 --json -");
  REQUIRE(one.exit_code == 0);
  CHECK(one.output == run(quick + "--threads 2 --json -").output);
  CHECK(one.output == run(quick + "--threads 7 --json -").output);
  CHECK(one.output != run(quick + "--seed 2 --json -").output);
  CHECK(one.errors.empty()); // no bar where there is no terminal
}

TEST_CASE("audit: shards merge into what one run gives") {
  const ScratchDirectory scratch;
  std::string parts;
  for (const char* part : {"2", "1", "3"}) {
    const std::string file = scratch.path(std::string("part-") + part + ".json");
    CHECK(run(quick + "--efficacy 90,99 --shard " + part + "/3 --json '" + file + "'").exit_code ==
          0);
    parts += " '" + file + "'";
  }
  const Run merged = run("eggfall audit --merge" + parts + " --json -");
  REQUIRE(merged.exit_code == 0);
  CHECK(merged.output == run(quick + "--efficacy 90,99 --json -").output);
  CHECK(merged.output != run(quick + "--efficacy 90 --json -").output);
  const Run missing = run("eggfall audit --merge '" + scratch.path("part-1.json") + "' '" +
                          scratch.path("part-3.json") + "'");
  CHECK(missing.exit_code == 2);
  CHECK(missing.errors == "eggfall: part 2/3 is missing; expected all 3 parts\n");
}

TEST_CASE("audit: a list makes a setting of each combination; a grid file does the same") {
  const ScratchDirectory scratch;
  write_text(scratch.path("g.toml"), "schema = \"eggfall.audit-grid/1\"\n[[cells]]\nanimals = 6\n"
                                     "eggs = [4, 9]\nefficacy_percent = [90, 99]\n");
  const Run by_options = run(quick + "--eggs 4,9 --efficacy 90,99 --json -");
  REQUIRE(by_options.exit_code == 0);
  CHECK(nlohmann::json::parse(by_options.output)["cells"].size() == 4);
  CHECK(by_options.output ==
        run("eggfall audit --trials 120 --json - --grid '" + scratch.path("g.toml") + "'").output);
}

TEST_CASE("audit: methods and cut-offs can be chosen") {
  const auto json = nlohmann::json::parse(
      run(quick + "--method posterior --design paired,two-group --host horses --class ML "
                  "--worm strongyles --json -")
          .output);
  REQUIRE(json["cells"].size() == 2);
  CHECK(json["cells"][0]["methods"].size() == 1);
  CHECK(json["cells"][1]["methods"][0]["method"] == "two-group-posterior");
  CHECK(json["settings"]["criteria"][0]["expected_percent"] == 99.9);
}

TEST_CASE("audit: what cannot be is refused with exit code 2 and leaves no file") {
  const ScratchDirectory scratch;
  for (const char* options :
       {"--shard 4/3",
        "--shard 0/3",
        "--shard x",
        "--trials 0",
        "--method wald",
        "--animals 0",
        "--animals 7.5",
        "--efficacy 101",
        "--k 0",
        "--k-after 3",
        "--class XX",
        "--grid missing.toml",
        "--grid calibration --animals 9",
        "--merge README.md",
        "--design two-group --control-animals 0",
        "--shape normal",
        "--threads -1",
        "--merge README.md --animals 9",
        "--merge README.md --trials 9",
        "--shard 1/1000001",
        "--page missing/p.md",
        "--csv missing/c.csv",
        "--trials 10000000 --animals 5,6,7,8,9,10,11,12,13,14 --k 0.1,0.2,0.3,0.4,0.5,0.6"}) {
    CAPTURE(options);
    const Run result =
        run("eggfall audit " + std::string(options) + " --json '" + scratch.path("r.json") + "'");
    CHECK(result.exit_code == 2);
    CHECK(result.output.empty());
    CHECK(result.errors.starts_with("eggfall: "));
    CHECK_FALSE(std::filesystem::exists(scratch.path("r.json")));
  }
}
