#include "cli/program.hpp"

#include "support/invented_region.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <map>
#include <sstream>
#include <string>
#include <vector>

namespace {

/// A counts table of 60 farms with two drenches each.
const std::string& sixty_farms() {
  static const std::string table = [] {
    std::string text = InventedRegion::header();
    for (std::size_t farm = 1; farm <= 60; ++farm)
      text += InventedRegion(2, 6, 3).farm(farm);
    return text;
  }();
  return table;
}

std::string in_quotes(const std::string& path) {
  return "'" + path + "'";
}

/// Without the header.
std::vector<std::string> rows_of(const std::string& csv) {
  std::istringstream lines(csv);
  std::vector<std::string> rows;
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line))
    rows.push_back(line);
  return rows;
}

std::uint64_t trial_number(const std::string& row) {
  return std::stoull(row);
}

std::size_t files_in(const ScratchDirectory& directory) {
  return static_cast<std::size_t>(
      std::distance(std::filesystem::directory_iterator(directory.path()), {}));
}

const std::string quick = "eggfall survey ";

} // namespace

TEST_CASE("survey: rows and tallies do not depend on the threads") {
  const ScratchDirectory scratch;
  const std::string table = in_quotes(scratch.path("t.csv"));
  write_text(scratch.path("t.csv"), sixty_farms());
  const Run rows = run(quick + table + " --threads 1 --csv -");
  const Run tallies = run(quick + table + " --threads 1 --json -");
  REQUIRE(rows.exit_code == 0);
  CHECK(rows.errors.empty());
  CHECK(rows_of(rows.output).size() == 120);
  for (const char* threads : {" --threads 2", " --threads 7"}) {
    CHECK(run(quick + table + threads + " --csv -").output == rows.output);
    CHECK(run(quick + table + threads + " --json -").output == tallies.output);
  }
  CHECK(run(quick + table + " --seed 2 --csv -").output != rows.output);
  CHECK(run(quick + "- --csv - <" + table).output == rows.output); // the trials have names
}

TEST_CASE("survey: rows stand in the table's order") {
  const ScratchDirectory scratch;
  write_text(scratch.path("t.csv"), sixty_farms());
  const auto rows = rows_of(run(quick + in_quotes(scratch.path("t.csv")) + " --csv -").output);
  REQUIRE(rows.size() == 120);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::string farm = std::to_string(i / 2 + 1);
    CHECK(rows[i].starts_with(farm + ",farm " + farm + ","));
  }
}

TEST_CASE("survey: the rows and JSON of the shards are together those of one run") {
  const ScratchDirectory scratch;
  const std::string table = in_quotes(scratch.path("t.csv"));
  write_text(scratch.path("t.csv"), sixty_farms());
  const std::string breakdowns = " --by class --by region,year ";
  std::vector<std::string> rows;
  std::string parts;
  for (const char* part : {"3", "1", "2"}) {
    const std::string json = in_quotes(scratch.path(std::string(part) + ".json"));
    const Run shard =
        run(quick + table + breakdowns + "--shard " + part + "/3 --json " + json + " --csv -");
    REQUIRE(shard.exit_code == 0);
    std::ranges::copy(rows_of(shard.output), std::back_inserter(rows));
    parts += " " + json;
  }
  std::ranges::stable_sort(rows, {}, trial_number);
  const Run whole = run(quick + table + breakdowns + "--csv -");
  CHECK(rows == rows_of(whole.output));
  const Run merged = run("eggfall survey --merge" + parts + " --json -");
  REQUIRE(merged.exit_code == 0);
  CHECK(merged.output == run(quick + table + breakdowns + "--json -").output);
  CHECK(run("eggfall survey --merge" + parts).output == run(quick + table + breakdowns).output);
  const Run missing = run("eggfall survey --merge " + in_quotes(scratch.path("3.json")));
  CHECK(missing.exit_code == 2);
  CHECK(missing.errors == "eggfall: part 1/3 is missing; expected all 3 parts\n");
}

TEST_CASE("survey: parts that read other tables of the same name and size are not joined") {
  const ScratchDirectory scratch;
  const std::string table = in_quotes(scratch.path("t.csv"));
  const std::string one = sixty_farms();
  std::string other = one;
  const std::size_t last_digit = other.find_last_of("0123456789");
  other[last_digit] = other[last_digit] == '0' ? '1' : '0';
  const auto part = [&](const std::string& text, const std::string& number) {
    write_text(scratch.path("t.csv"), text);
    REQUIRE(run(quick + table + " --shard " + number + "/2 --json " +
                in_quotes(scratch.path(number + ".json")))
                .exit_code == 0);
  };
  const std::string merge = "eggfall survey --merge " + in_quotes(scratch.path("1.json")) + " " +
                            in_quotes(scratch.path("2.json"));
  part(one, "1");
  part(other, "2");
  const Run refused = run(merge);
  CHECK(refused.exit_code == 2);
  CHECK(refused.output.empty());
  CHECK(refused.errors ==
        "eggfall: part 2 read another table \"t.csv\" than the first: they are of "
        "one name, but not of one content; expected parts of one survey\n");
  part(one, "2");
  CHECK(run(merge).exit_code == 0);
}

TEST_CASE("survey: verdicts and limits are those of analyse, and the tallies count them") {
  const ScratchDirectory scratch;
  const std::string table = in_quotes(scratch.path("t.csv"));
  write_text(scratch.path("t.csv"), sixty_farms());
  const auto rows = rows_of(run(quick + table + " --csv -").output);
  const auto json =
      nlohmann::json::parse(run("eggfall analyse --simulations 0 " + table + " --json -").output);
  std::map<std::string, std::size_t> counted;
  std::size_t r = 0;
  for (const auto& trial : json["trials"])
    for (const auto& group : trial["groups"]) {
      REQUIRE(r < rows.size());
      const std::string& row = rows[r++];
      CAPTURE(row);
      const auto& verdict = group["verdicts"][0];
      char limits[100];
      std::snprintf(limits, sizeof limits, ",%.6f,%.6f,%.6f,0.9,guarded-posterior,",
                    group["reduction_percent"].get<double>(),
                    verdict["interval"]["lower_percent"].get<double>(),
                    verdict["interval"]["upper_percent"].get<double>());
      CHECK(row.find(limits) != std::string::npos);
      const auto name = verdict["class"].get<std::string>();
      CHECK(row.find(",waavp-2023-clinical," + name + ",") != std::string::npos);
      ++counted[name];
    }
  CHECK(r == rows.size());
  const auto all = nlohmann::json::parse(run(quick + table + " --json -").output)["all"];
  CHECK(counted["susceptible"] > 0);
  CHECK(counted["resistant"] > 0);
  for (const char* name : {"susceptible", "resistant", "inconclusive"})
    CHECK(all[name] == counted[name]);
}

TEST_CASE("survey: a bad row deep in a long table leaves no file, and its line is told") {
  const ScratchDirectory scratch;
  std::string table = sixty_farms();
  const std::string good = "farm 57,";
  const auto found = table.find(good);
  REQUIRE(found != std::string::npos);
  const auto line =
      std::count(table.begin(), table.begin() + static_cast<std::ptrdiff_t>(found), '\n') + 1;
  const auto eggs = table.find(",15,15", found); // the end of its eggs_after
  table.insert(eggs, ".5");
  write_text(scratch.path("t.csv"), table);
  const Run result =
      run(quick + in_quotes(scratch.path("t.csv")) + " --csv " + in_quotes(scratch.path("r.csv")) +
          " --json " + in_quotes(scratch.path("r.json")));
  CHECK(result.exit_code == 2);
  CHECK(result.output.empty());
  CHECK(result.errors.find("t.csv:" + std::to_string(line) + ": ") != std::string::npos);
  CHECK(result.errors.find("eggs_after") != std::string::npos);
  CHECK(files_in(scratch) == 1); // the table; no temporary either
}

TEST_CASE("survey: an older file of rows stays as it was if the table is bad") {
  const ScratchDirectory scratch;
  write_text(scratch.path("t.csv"), "group,animal\n");
  write_text(scratch.path("r.csv"), "old");
  CHECK(run(quick + in_quotes(scratch.path("t.csv")) + " --csv " + in_quotes(scratch.path("r.csv")))
            .exit_code == 2);
  CHECK(read_text(scratch.path("r.csv")) == "old");
}

TEST_CASE("survey: several tables are one survey, but a trial is in one of them only") {
  const ScratchDirectory scratch;
  std::string first = InventedRegion::header();
  std::string second = first;
  std::string both = first;
  for (std::size_t farm = 1; farm <= 8; ++farm) {
    (farm <= 3 ? first : second) += InventedRegion(1, 6, 3).farm(farm);
    both += InventedRegion(1, 6, 3).farm(farm);
  }
  write_text(scratch.path("1.csv"), first);
  write_text(scratch.path("2.csv"), second);
  write_text(scratch.path("both.csv"), both);
  const std::string one = in_quotes(scratch.path("1.csv")) + " ";
  const std::string two = in_quotes(scratch.path("2.csv")) + " ";
  const std::string all = in_quotes(scratch.path("both.csv")) + " ";
  const Run together = run(quick + one + two + "--csv -");
  REQUIRE(together.exit_code == 0);
  CHECK(together.output == run(quick + all + "--csv -").output);
  const Run again = run(quick + all + two + "--csv " + in_quotes(scratch.path("r.csv")));
  CHECK(again.exit_code == 2);
  CHECK(again.errors.find("2.csv: found a trial \"farm 4\" again; expected each trial in one table "
                          "only") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(scratch.path("r.csv")));
}

TEST_CASE("survey: what cannot be is refused with exit code 2 and leaves no file") {
  const ScratchDirectory scratch;
  for (const char* options : {"",
                              "missing.csv",
                              "examples",
                              "examples/region.csv --by paddock",
                              "examples/region.csv --by year,year",
                              "examples/region.csv --by year --by year",
                              "examples/region.csv --by ''",
                              "examples/region.csv --by class,",
                              "examples/region.csv --criteria x",
                              "examples/region.csv --shard 3/2",
                              "examples/region.csv --threads -1",
                              "examples/region.csv --resamples 1000",
                              "examples/region.csv --merge README.md",
                              "--merge README.md",
                              "--merge README.md --csv x.csv",
                              "examples/region.csv --cutoffs missing.toml",
                              "examples/region.csv --factor 0",
                              "examples/region.csv --csv -",
                              "examples/region.csv --csv missing/r.csv",
                              "examples/region.csv --csv examples/region.csv"}) {
    CAPTURE(options);
    const std::string out =
        std::string(options).ends_with("--csv -") ? "-" : in_quotes(scratch.path("r.json"));
    const Run result = run("eggfall survey " + std::string(options) + " --json " + out);
    CHECK(result.exit_code == 2);
    CHECK(result.output.empty());
    CHECK(result.errors.starts_with("eggfall: "));
    CHECK(files_in(scratch) == 0);
  }
}

TEST_CASE("survey: the bundled region is what its maker writes") {
  std::string table = InventedRegion::header();
  for (std::size_t farm = 1; farm <= 40; ++farm)
    table += InventedRegion(2, 10, 1).farm(farm);
  CHECK(read_text(EGGFALL_SOURCE_DIR "/examples/region.csv") == table);
}

TEST_CASE("survey: an invented practice of twelve farms over eight years") {
  const ScratchDirectory scratch;
  const std::string counts = in_quotes(scratch.path("practice.csv"));
  REQUIRE(run("eggfall simulate --practice examples/practice.toml --counts " + counts +
              " --truth " + in_quotes(scratch.path("truth.json")))
              .exit_code == 0);
  const auto truth = nlohmann::json::parse(read_text(scratch.path("truth.json")));
  CHECK(truth["farms"].size() == 12);
  const std::string years = scratch.path("years.csv");
  const Run whole = run("eggfall survey " + counts + " --years " + in_quotes(years) + " --json -");
  REQUIRE(whole.exit_code == 0);
  const auto json = nlohmann::json::parse(whole.output);
  CHECK(json["surveyed"]["trials"] == 96);
  REQUIRE(json["courses"].size() == 36);
  std::map<std::string, std::string> clear_drench;
  std::size_t lost = 0;
  for (const auto& course : json["courses"]) {
    CHECK(course["tests"].size() == 8);
    if (course["drench"] == "ivermectin")
      clear_drench[course["farm"]] = course["word"];
    // A drench that removes 82% or less was never seen to hold.
    if (course["drench"] == "albendazole" && course["farm"] != "Carr End")
      lost += course["word"] == "lost" ? 1 : 0;
  }
  CHECK(lost == 11);
  REQUIRE(clear_drench.size() == 12);
  // The three farms of the scenario on which it slips.
  for (const char* farm : {"Birk Hope", "Elm Lathe", "Ivy Croft"})
    CHECK((clear_drench[farm] == "slipping" || clear_drench[farm] == "lost"));
  // Of the nine others none is lost, and most hold.
  std::size_t holding = 0;
  for (const auto& [farm, word] : clear_drench) {
    holding += word == "holding" ? 1 : 0;
    if (farm != "Birk Hope" && farm != "Elm Lathe" && farm != "Ivy Croft")
      CHECK(word != "lost");
  }
  CHECK(holding >= 5);
  // Truly below 90% are the 11 x 8 tests of the white drench, whose truth is 82% or less.
  REQUIRE(json["regions"].size() == 3);
  CHECK(json["regions"][0]["class"] == "BZ");
  CHECK(json["regions"][0]["below"][0]["groups_upper"] >= 88);
  CHECK(json["regions"][0]["below"][0]["groups_lower"] <= 88);

  std::string parts;
  for (const char* shard : {"1", "2", "3"}) {
    const std::string part = in_quotes(scratch.path("part-" + std::string(shard) + ".json"));
    parts += " " + part;
    REQUIRE(run("eggfall survey " + counts + " --shard " + shard + "/3 --json " + part).exit_code ==
            0);
  }
  const std::string joined_years = scratch.path("joined.csv");
  const Run joined =
      run("eggfall survey --merge" + parts + " --years " + in_quotes(joined_years) + " --json -");
  CHECK(joined.output == whole.output);
  CHECK(read_text(joined_years) == read_text(years));
}

TEST_CASE("survey: a table a year, with the same trial names, is one survey") {
  const ScratchDirectory scratch;
  std::string tables;
  for (const char* year : {"2030", "2031"}) {
    const std::string table = scratch.path(std::string(year) + ".csv");
    write_text(table, "farm,year,group,drench,animal,eggs_before,eggs_after,factor\n"
                      "Hill," +
                          std::string(year) +
                          ",white,levamisole,1,40,0,15\n"
                          "Hill," +
                          std::string(year) + ",white,levamisole,2,30,1,15\n");
    tables += " " + in_quotes(table);
  }
  const Run result = run("eggfall survey" + tables + " --host sheep --years -");
  REQUIRE(result.exit_code == 0);
  CHECK(result.output.find("\nHill,levamisole,sheep,,") != std::string::npos);
  CHECK(std::ranges::count(result.output, '\n') == 3);
  const Run twice = run("eggfall survey" + tables + tables.substr(0, tables.rfind(" ")) +
                        " --host sheep --years -");
  CHECK(twice.exit_code == 2);
  CHECK(twice.errors.find("a trial \"Hill\" again") != std::string::npos);
}

TEST_CASE("survey: --report writes a page with all groups, the same whatever the threads") {
  const ScratchDirectory scratch;
  write_text(scratch.path("t.csv"), sixty_farms());
  const std::string table = in_quotes(scratch.path("t.csv"));
  const Run whole = run(quick + table + " --report " + in_quotes(scratch.path("page.html")) +
                        " --json " + in_quotes(scratch.path("all.json")));
  REQUIRE(whole.exit_code == 0);
  const std::string page = read_text(scratch.path("page.html"));
  CHECK(page.starts_with("<!DOCTYPE html>"));
  CHECK(page.find("120 drench tests: ") != std::string::npos);
  CHECK(page.find("farm 60: ") != std::string::npos); // the last row is there too
  CHECK(run(quick + table + " --threads 3 --report -").output == page);

  // Of parts joined no rows are left, and the page says so.
  const std::string merged =
      run(quick + "--merge " + in_quotes(scratch.path("all.json")) + " --report -").output;
  CHECK(merged.find("120 drench tests: ") != std::string::npos);
  CHECK(merged.find("The 120 groups of this survey are not shown one by one") != std::string::npos);
}

TEST_CASE("survey: the page of a part is refused with the way out, and leaves nothing") {
  const ScratchDirectory scratch;
  const Run refused = run("eggfall survey examples/region.csv --shard 1/2 --report " +
                          in_quotes(scratch.path("page.html")));
  CHECK(refused.exit_code == 2);
  CHECK(refused.output.empty());
  CHECK(refused.errors.find("--report: found it beside --shard 1/2; expected a page of the whole "
                            "survey") != std::string::npos);
  CHECK(refused.errors.find("--merge") != std::string::npos);
  CHECK(files_in(scratch) == 0);
}

TEST_CASE("survey: a bad row leaves no page beside the other files") {
  const ScratchDirectory scratch;
  write_text(scratch.path("t.csv"),
             sixty_farms() + "farm 61,Westvale,2030,sheep,a,BZ,T1,x,0,15,15\n");
  const Run refused =
      run(quick + in_quotes(scratch.path("t.csv")) + " --report " +
          in_quotes(scratch.path("page.html")) + " --csv " + in_quotes(scratch.path("rows.csv")));
  CHECK(refused.exit_code == 2);
  CHECK(files_in(scratch) == 1); // the table
}

TEST_CASE("survey: of more groups than a page shows none are shown, and it says so") {
  const ScratchDirectory scratch;
  std::string table = InventedRegion::header();
  for (std::size_t farm = 1; farm <= 334; ++farm)
    table += InventedRegion(3, 2, 3).farm(farm);
  write_text(scratch.path("t.csv"), table);
  const std::string page = run(quick + in_quotes(scratch.path("t.csv")) + " --report -").output;
  CHECK(page.find("1002 drench tests: ") != std::string::npos);
  CHECK(page.find("The 1002 groups of this survey are not shown one by one") != std::string::npos);
  CHECK(page.find("side-by-side falls\"") == std::string::npos);
}
