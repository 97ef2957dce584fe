#include "cli/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>

// The command that only reads, and how answers to its questions are given and kept.

namespace {

const std::string untidy = "Lambs at the top gate\n\nEar tag;Mob;FEC 1;FEC 2;Remarks\n"
                           "101;White;450;nd;\n102;White;300;50;soft\n103;White;1.050;0;\n"
                           "Mean;;600;25;\n";

} // namespace

TEST_CASE("read: a table is understood, summed up, and written as a counts table that reads by "
          "itself") {
  const ScratchDirectory scratch;
  write_text(scratch.path("lab.csv"), untidy);
  const std::string command =
      "cd '" + scratch.path() + "' && eggfall read lab.csv --factor 50 --cell nd=not-sampled";
  const Run shown = run(command);
  CHECK(shown.exit_code == 0);
  CHECK(shown.errors.empty());
  CHECK_THAT(shown.output,
             Catch::Contains("\"Ear tag\" = animal, \"Mob\" = group") &&
                 Catch::Contains("passed over, as sums and means: line 7 (\"Mean\")") &&
                 Catch::Contains("\"nd\" is taken for not sampled in 1 cell: line 4 (101)") &&
                 Catch::Contains("White, 3 animals\n"
                                 "    before: 36 eggs seen in 3 samples, factor 50\n"
                                 "    after: 1 egg seen in 2 samples, factor 50\n"));
  for (const std::string file : {"counts.csv", "counts.xlsx"}) {
    INFO(file);
    REQUIRE(run(command + " --table " + file).exit_code == 0);
    const Run again = run("cd '" + scratch.path() + "' && eggfall read " + file + " --json -");
    REQUIRE(again.exit_code == 0);
    const auto json = nlohmann::json::parse(again.output);
    CHECK(json["schema"] == "eggfall.reading/1");
    CHECK(json["understood"].empty());
    CHECK(json["columns"] == nlohmann::json({"group", "animal", "eggs_before", "factor_before",
                                             "eggs_after", "factor_after"}));
    CHECK(json["rows"][0] == nlohmann::json({"White", "101", "9", "50", "", ""}));
    CHECK(json["rows"][2] == nlohmann::json({"White", "103", "21", "50", "0", "50"}));
  }
}

TEST_CASE("read: a day after treatment chooses among visits, and that of none is refused") {
  const ScratchDirectory scratch;
  write_text(scratch.path("v.csv"), "group,animal,eggs_before,eggs_day:10,eggs_day:14\n"
                                    "W,1,20,0,4\nW,2,30,0,5\n");
  const std::string read = "cd '" + scratch.path() + "' && eggfall read v.csv --factor 50 ";
  CHECK_THAT(run(read + "--day-after 14").output,
             Catch::Contains("after (day 14): 9 eggs seen in 2 samples"));
  const Run refused = run(read + "--day-after 99");
  CHECK(refused.exit_code == 2);
  CHECK_THAT(refused.errors, Catch::Contains("--day-after: found \"99\"; expected the day of one "
                                             "of the visits in v.csv: 10, 14"));
}

TEST_CASE("Names that are digits keep their zeros in a workbook, a farm's as an animal's") {
  const ScratchDirectory scratch;
  write_text(scratch.path("farm.csv"), "group,animal,eggs_before,eggs_after,farm,region\n"
                                       "1,0401,24,2,007,01\n1,0402,30,1,007,01\n");
  const std::string here = "cd '" + scratch.path() + "' && ";
  REQUIRE(run(here + "eggfall read farm.csv --factor 15 --table farm.xlsx").exit_code == 0);
  const Run again = run(here + "eggfall read farm.xlsx --table -");
  REQUIRE(again.exit_code == 0);
  for (const std::string name : {"0401", "0402", "007", "01"})
    CHECK_THAT(again.output, Catch::Contains(name));
}

TEST_CASE(
    "A question names its answer, which is taken, kept in a layout, and found beside the next "
    "sheet") {
  const ScratchDirectory scratch;
  write_text(scratch.path("may.csv"), untidy);
  const std::string here = "cd '" + scratch.path() + "' && ";
  const Run asked = run(here + "eggfall analyse may.csv --factor 50 --host sheep");
  CHECK(asked.exit_code == 2);
  CHECK(asked.output.empty());
  CHECK(
      asked.errors ==
      "eggfall: may.csv:4: column 4 (FEC 2): found \"nd\" in 1 cell of counts, which stands for no "
      "egg seen in some laboratories and for no sample in others; expected an answer: --cell "
      "nd=none-seen, or --cell nd=not-sampled\n");
  REQUIRE(run(here + "eggfall read may.csv --factor 50 --host sheep --cell nd=not-sampled --keep "
                     "eggfall-layout.toml")
              .exit_code == 0);
  CHECK(read_text(scratch.path("eggfall-layout.toml")) ==
        "schema = \"eggfall.layout/1\"\nfactor = 50\nhost = \"sheep\"\n\n[cells]\n\"nd\" = "
        "\"not-sampled\"\n");
  write_text(scratch.path("june.csv"), untidy);
  const Run next = run(here + "eggfall analyse june.csv");
  CHECK(next.exit_code == 0);
  CHECK_THAT(next.errors, Catch::Contains("read by the layout eggfall-layout.toml") ||
                              Catch::Contains("read by the layout ./eggfall-layout.toml"));
  CHECK_THAT(next.output, Catch::Contains("Trial june: 1 treated group"));
  // What is said on the command line goes before the file.
  const Run said = run(here + "eggfall read june.csv --cell nd=none-seen");
  CHECK_THAT(said.output, Catch::Contains("\"nd\" is taken for no egg seen"));
}

TEST_CASE("Each answer has an option, and one that is none is refused with what would be") {
  for (const auto& [option, found] : {
           std::pair{"--dates either", "--dates: found \"either\"; expected day-first or "
                                       "month-first"},
           std::pair{"--counts both", "--counts: found \"both\"; expected eggs or epg"},
           std::pair{"--cell nd", "--cell: found \"nd\"; expected WORD=none-seen"},
           std::pair{"--column tag", "--column: found \"tag\"; expected OURS=THEIRS"},
           std::pair{"--column taag=Ear", "--column: found the column \"taag\"; expected one of "},
           std::pair{"--side-by-side visits", "--side-by-side: found \"visits\"; expected repeats "
                                              "or groups"},
           std::pair{"--occasions first", "--occasions: found \"first\"; expected before or after"},
           std::pair{"--mean-of 1", "--mean-of"},
           std::pair{"--layout examples/own-cut-offs.toml", "expected \"eggfall.layout/1\""},
       }) {
    INFO(option);
    const Run refused =
        run(std::string("eggfall read examples/lab-sheet.csv --factor 50 ") + option);
    CHECK(refused.exit_code == 2);
    CHECK(refused.output.empty());
    CHECK_THAT(refused.errors, Catch::Contains(found));
  }
}

TEST_CASE("Two files, or two sheets that are named, are one trial") {
  const ScratchDirectory scratch;
  const std::string here = "cd '" + scratch.path() + "' && ";
  write_text(scratch.path("lambs day 0.csv"), "Tag,Group,EPG\n1,A,450\n2,A,300\n");
  write_text(scratch.path("lambs day 14.csv"), "Tag,EPG\n2,50\n1,0\n");
  const Run joined = run(here + "eggfall read 'lambs day 0.csv' 'lambs day 14.csv' --factor 50");
  CHECK(joined.exit_code == 0);
  CHECK_THAT(joined.output, Catch::Contains("joined by the names of 2 animals") &&
                                Catch::Contains("Trial lambs day"));
  const Run half = run(here + "eggfall analyse 'lambs day 0.csv' --factor 50");
  CHECK(half.exit_code == 2);
  CHECK_THAT(half.errors, Catch::Contains("found counts of one time alone, under \"EPG\"; expected "
                                          "counts before treatment and after"));
}

TEST_CASE("survey and plan read such tables too, and the report says how") {
  const ScratchDirectory scratch;
  const Run survey = run("eggfall survey examples/lab-sheet.csv --factor 50 --host sheep");
  CHECK(survey.exit_code == 0);
  CHECK_THAT(survey.errors, Catch::Contains("groups whose drench is \"untreated\""));
  write_text(scratch.path("pilot.csv"), "Lambs, before any drench\nTag,EPG\n1,450\n2,300\n3,900\n");
  const Run plan = run("eggfall plan --quick --pilot '" + scratch.path("pilot.csv") +
                       "' --factor 50 --animals 10");
  CHECK(plan.exit_code == 0);
  CHECK_THAT(plan.errors, Catch::Contains("\"EPG\" = epg"));
  const std::string page = scratch.path("r.html");
  REQUIRE(run("eggfall analyse examples/lab-sheet.csv --factor 50 --host sheep --report '" + page +
              "' --json '" + scratch.path("r.json") + "'")
              .exit_code == 0);
  CHECK_THAT(read_text(page), Catch::Contains("How the table was read") &&
                                  Catch::Contains("is taken for no egg seen in 12 cells"));
  const auto json = nlohmann::json::parse(read_text(scratch.path("r.json")));
  CHECK(json["trials"][0]["reading"].size() > 10);
  const Run tidy = run("eggfall analyse examples/brackenhill.csv --json -");
  CHECK_FALSE(nlohmann::json::parse(tidy.output)["trials"][0].contains("reading"));
}
