#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>
#include <vector>

namespace {

const std::string bench = "eggfall factor --faeces-g 3 --total-ml 45 --chamber-ml 0.5 ";

nlohmann::json factor(const std::string& options) {
  const Run result = run(bench + options + " --json -");
  REQUIRE(result.exit_code == 0);
  return nlohmann::json::parse(result.output);
}

void check_refused(const std::string& command, const std::string& message) {
  INFO(command);
  const Run result = run(command);
  CHECK(result.exit_code == 2);
  CHECK(result.output.empty());
  CHECK_THAT(result.errors, Catch::StartsWith("eggfall: ") && Catch::Contains(message));
}

} // namespace

TEST_CASE("Numbers that a person types are decimal, with leading zeros too") {
  CHECK(factor("--chambers 2 --eggs 012 010")["eggs"] == 22);
  CHECK(factor("--chambers 010")["counted_ml"] == Approx(5));
  CHECK(factor("--chambers 02 --eggs 0")["eggs"] == 0);
  const std::string brackenhill =
      "eggfall analyse examples/brackenhill.csv --simulations 0 --json -";
  CHECK(run(brackenhill + " --seed 010").output == run(brackenhill + " --seed 10").output);
  const std::string plan = "eggfall plan --class BZ --epg 600 --trials 020 --json -";
  CHECK(run(plan + " --animals 010").output == run(plan + " --animals 10").output);
}

TEST_CASE("Hexadecimal, infinite and other numbers of programmers are refused") {
  for (const char* number : {"0x10", "0b11", "1e1", "+3", "-3", "3.0", "1_000", "ten", "\xD9\xA3"})
    check_refused(bench + "--chambers " + number, "expected a whole number, in digits alone");
  for (const char* number : {"0x10", "inf", "nan", "INF", "1e999", "0,5", "0x1p3", "half"})
    check_refused("eggfall factor --faeces-g " + std::string(number) +
                      " --total-ml 45 --chambers 2 --chamber-ml 0.5",
                  "--faeces-g: found \"" + std::string(number) +
                      "\"; expected a number such as 12 or 0.5");
  check_refused("eggfall plan --class BZ --epg 600 --factor 0x32",
                "--factor: found \"0x32\"; expected FACTOR");
  check_refused("eggfall sheet --animals 5 --group w:BZ --label-ml-per-kg w:0x1 --counts -",
                "--label-ml-per-kg: found \"w:0x1\"");
  check_refused("eggfall survey examples/region.csv --shard 0x1/2", "--shard: found \"0x1/2\"");
}

TEST_CASE("An empty value is refused by every option of every command, and by name") {
  const ScratchDirectory scratch;
  const std::vector<std::string> with_values{"analyse examples/brackenhill.csv --json",
                                             "analyse examples/brackenhill.csv --csv",
                                             "analyse examples/brackenhill.csv --report",
                                             "analyse examples/brackenhill.csv --figures",
                                             "analyse examples/brackenhill.csv --xlsx",
                                             "analyse examples/brackenhill.csv --cutoffs",
                                             "analyse examples/brackenhill.csv --larvae",
                                             "analyse examples/brackenhill.csv --host",
                                             "analyse examples/brackenhill.csv --control",
                                             "analyse examples/brackenhill.csv --sheet",
                                             "survey examples/region.csv --json",
                                             "survey examples/region.csv --by",
                                             "survey --merge",
                                             "teach --folder",
                                             "cutoffs --file",
                                             "cutoffs --json",
                                             "audit --page",
                                             "audit --grid",
                                             "plan --class BZ --pilot",
                                             "plan --class BZ --epg 600 --report",
                                             "sheet --animals 5 --group w --counts",
                                             "sheet --animals 5 --counts - --group",
                                             "simulate --counts",
                                             "simulate --scenario",
                                             "simulate --counts x.csv --truth",
                                             "factor --faeces-g 3 --total-ml 45 --wanted 5 --json",
                                             "analyse examples/brackenhill.csv --seed",
                                             "analyse examples/brackenhill.csv --factor"};
  for (const std::string& options : with_values) {
    const std::string option = options.substr(options.rfind("--"));
    for (const char* empty : {" ''", " ' '"})
      check_refused("cd '" + scratch.path() +
                        "' && ln -sfn " EGGFALL_SOURCE_DIR "/examples examples; "
                        "eggfall " +
                        options + empty,
                    option + ": found an empty value; expected one");
    check_refused("eggfall " + options + "=", option + ": 1 required");
  }
  check_refused("eggfall survey '' --json " + scratch.path("x.json"),
                "TABLE: found an empty value; expected one");
  check_refused("eggfall analyse ''", "TABLE: found an empty value; expected one");
  std::size_t left = 0;
  for (const auto& entry : std::filesystem::directory_iterator(scratch.path()))
    left += entry.path().filename() == "examples" ? 0 : 1;
  CHECK(left == 0);
}

TEST_CASE("cutoffs writes the published cut-offs as JSON without a file of one's own") {
  const ScratchDirectory scratch;
  REQUIRE(run("eggfall cutoffs --json '" + scratch.path("c.json") + "'").exit_code == 0);
  CHECK(nlohmann::json::parse(read_text(scratch.path("c.json")))["criteria"].size() >= 4);
}

TEST_CASE("Texts are UTF-8, and in the form that tables have") {
  const ScratchDirectory scratch;
  for (const char* options :
       {"analyse examples/brackenhill.csv --host", "sheet --animals 5 --counts - --group",
        "sheet --animals 5 --group w --counts - --control"})
    check_refused("eggfall " + std::string(options) + " \"$(printf '\\351')\"",
                  "found \"?\"; expected a text in UTF-8");
  // The table has e and U+0301, the option U+00E9, and both have blanks to spare.
  write_text(scratch.path("t.csv"), "group,animal,eggs_before,eggs_after\n"
                                    "me\xCC\x81rinos  noirs,1,9,8\nme\xCC\x81rinos noirs,2,8,9\n"
                                    "w,3,9,0\nw,4,8,0\n");
  const Run result = run("eggfall analyse '" + scratch.path("t.csv") +
                         "' --factor 15 --control ' m\xC3\xA9rinos\xC2\xA0noirs' --json -");
  REQUIRE(result.exit_code == 0);
  const auto trial = nlohmann::json::parse(result.output)["trials"][0];
  CHECK(trial["groups"].size() == 1);
  CHECK(trial["control"]["group"] == "m\xC3\xA9rinos noirs");
}

TEST_CASE("Numbers that leave nothing to answer from are refused") {
  check_refused("eggfall plan --class BZ --epg 600 --trials 0",
                "expected a whole number from 1 to");
  check_refused("eggfall plan --class BZ --epg 600 --animals 0",
                "expected a whole number from 2 to 1000");
  check_refused("eggfall audit --trials 0", "expected a whole number from 1 to 10000000");
  check_refused("eggfall simulate --counts - --trials 0",
                "expected a whole number from 1 to 10000");
  check_refused("eggfall teach --folder /nowhere/pack --students 0",
                "expected a whole number from 1 to 200");
  check_refused("eggfall sheet --animals 0 --group w --counts -",
                "expected a whole number from 1 to");
  check_refused(bench + "--chambers 2 --eggs 1 2 3",
                "--eggs: found 3 numbers; expected 2 of them, one for each chamber, or one for all "
                "chambers together");
  CHECK(factor("--chambers 2 --eggs 27")["epg"] == factor("--chambers 2 --eggs 12 15")["epg"]);
  check_refused("eggfall plan --class BZ --epg 600 --factor 50:1e308:1e308",
                "with a cost and minutes of at most 100000");
}
