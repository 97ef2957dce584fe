#include "cli/program.hpp"

#include "base/text.hpp"
#include "formats/table.hpp"
#include "formats/zip_archive.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

namespace {

using eggfall::Table;

Table sheet_of(const std::string& workbook, const std::string& sheet) {
  return eggfall::read_table(workbook, {"r.xlsx", sheet}, "result");
}

std::string part_of(const std::string& workbook, const std::string& part) {
  const auto text = eggfall::ZipArchive(workbook, "r.xlsx").part(part);
  REQUIRE(text);
  return *text;
}

pugi::xml_document xml_of(const std::string& workbook, const std::string& part) {
  pugi::xml_document document;
  REQUIRE(document.load_string(part_of(workbook, part).c_str()));
  return document;
}

const std::string& cell(const Table& table, std::size_t row, const std::string& column) {
  const auto found = std::ranges::find(table.header.cells, column);
  REQUIRE(found != table.header.cells.end());
  return table.rows.at(row).cells.at(static_cast<std::size_t>(found - table.header.cells.begin()));
}

double number(const Table& table, std::size_t row, const std::string& column) {
  const auto value = eggfall::parse_number(cell(table, row, column));
  REQUIRE(value);
  return *value;
}

/// A number of a sheet is read at 15 digits.
auto as_in_sheet(const nlohmann::json& value) {
  return Catch::Matchers::WithinRel(value.get<double>(), 1e-14);
}

} // namespace

TEST_CASE("A workbook gives the same result as the text it was made of") {
  const std::string json = " --simulations 20 --json -";
  const Run text = run("eggfall analyse examples/brackenhill.csv" + json);
  const Run workbook = run("eggfall analyse tests/workbooks/brackenhill.xlsx" + json);
  REQUIRE(text.exit_code == 0);
  CHECK(workbook.errors == text.errors);
  CHECK(workbook.output == text.output);
  const Run piped = run("eggfall analyse - --json - < tests/workbooks/brackenhill.xlsx");
  REQUIRE(piped.exit_code == 0);
  CHECK(nlohmann::json::parse(piped.output)["trials"][0]["trial"] == "trial");
}

TEST_CASE("Every command that reads a table reads a sheet") {
  const Run text = run("eggfall survey examples/brackenhill.csv --csv -");
  REQUIRE(text.exit_code == 0);
  CHECK(run("eggfall survey tests/workbooks/brackenhill.xlsx --csv -").output == text.output);
  CHECK(run("eggfall survey - --sheet brackenhill --csv - < tests/workbooks/brackenhill.xlsx")
            .exit_code == 0);

  const Run drawn = run("eggfall sheet tests/workbooks/fields.xlsx --sheet mob --group white:BZ "
                        "--group clear:ML --counts -");
  REQUIRE(drawn.exit_code == 0);
  CHECK(drawn.output.find(",701,") != std::string::npos);

  const Run larvae = run("eggfall analyse tests/workbooks/fields.xlsx --sheet Counts --larvae "
                         "tests/workbooks/fields.xlsx --larvae-sheet Larvae --factor 50 --json -");
  REQUIRE(larvae.exit_code == 0);
  const auto group = nlohmann::json::parse(larvae.output)["trials"][0]["groups"][0];
  CHECK(group["worms"][0]["larvae_after"]["larvae"] == 9);
  CHECK(group["worms"][0]["larvae_after"]["told_apart"] == 10);

  const std::string plan = " --factor 50 --animals 10 --quick --json -";
  const Run pilot = run("eggfall plan --pilot examples/brackenhill.csv" + plan);
  REQUIRE(pilot.exit_code == 0);
  CHECK(run("eggfall plan --pilot tests/workbooks/brackenhill.xlsx --sheet brackenhill" + plan)
            .output == pilot.output);
}

TEST_CASE("What is wrong with a workbook exits with 2 and leaves no file") {
  const ScratchDirectory scratch;
  const std::string json = " --json '" + scratch.path("r.json") + "'";
  const Run cell = run("eggfall analyse tests/workbooks/fields.xlsx --sheet Beyond" + json);
  CHECK(cell.exit_code == 2);
  CHECK(cell.errors == "eggfall: tests/workbooks/fields.xlsx, sheet \"Beyond\", F2: found \"far "
                       "out\"; expected an empty cell, as no column has its name above it\n");
  const Run sheet = run("eggfall analyse tests/workbooks/brackenhill.xlsx --sheet May" + json);
  CHECK(sheet.exit_code == 2);
  CHECK(sheet.errors ==
        "eggfall: tests/workbooks/brackenhill.xlsx: found no sheet \"May\"; expected "
        "one of its sheets \"brackenhill\"\n");
  const std::vector<std::string> commands{
      "analyse {}" + json, "survey {}" + json, "plan --pilot {}" + json,
      "sheet {} --group white:BZ --counts '" + scratch.path("r.json") + "'"};
  for (const std::string& command : commands) {
    const std::string table = "tests/workbooks/days-from-1904.xls";
    const Run old = run("eggfall " + fmt::format(fmt::runtime(command), table));
    CAPTURE(command);
    CHECK(old.exit_code == 2);
    CHECK(old.errors.starts_with("eggfall: " + table +
                                 ": found a spreadsheet workbook of the old kind (.xls)"));
  }
  CHECK_FALSE(std::filesystem::exists(scratch.path("r.json")));
}

TEST_CASE("analyse --xlsx: the same numbers as in JSON and CSV, sheet by sheet") {
  const ScratchDirectory scratch;
  const Run result = run("eggfall analyse examples/mixed-worms.csv --larvae "
                         "examples/mixed-worms-larvae.csv --json '" +
                         scratch.path("r.json") + "' --csv '" + scratch.path("r.csv") +
                         "' --xlsx '" + scratch.path("r.xlsx") + "'");
  REQUIRE(result.exit_code == 0);
  const std::string workbook = read_text(scratch.path("r.xlsx"));
  const auto json = nlohmann::json::parse(read_text(scratch.path("r.json")));
  const auto& trial = json["trials"][0];

  const Table csv = eggfall::read_table(read_text(scratch.path("r.csv")), "r.csv", "result");
  const Table intervals = sheet_of(workbook, "Intervals");
  CHECK(intervals.header.cells == csv.header.cells);
  REQUIRE(intervals.rows.size() == csv.rows.size());
  for (std::size_t row = 0; row < csv.rows.size(); ++row)
    for (std::size_t i = 0; i < csv.header.cells.size(); ++i) {
      const std::string& in_csv = csv.rows[row].cells[i];
      const std::string& in_sheet = intervals.rows[row].cells[i];
      CAPTURE(row, csv.header.cells[i], in_csv, in_sheet);
      const auto value = eggfall::parse_number(in_csv);
      if (!value)
        CHECK(in_sheet == (in_csv == "true" ? "TRUE" : in_csv == "false" ? "FALSE" : in_csv));
      else if (csv.header.cells[i].ends_with("_percent"))
        // These have six decimals there: half of the last, and a hair where that falls on a half.
        CHECK_THAT(number(intervals, row, csv.header.cells[i]),
                   Catch::Matchers::WithinAbs(*value, 0.51e-6));
      else
        CHECK_THAT(number(intervals, row, csv.header.cells[i]), as_in_sheet(*value));
    }

  const Table groups = sheet_of(workbook, "Groups");
  const Table verdicts = sheet_of(workbook, "Verdicts");
  const Table animals = sheet_of(workbook, "Animals");
  const Table caveats = sheet_of(workbook, "Caveats");
  REQUIRE(groups.rows.size() == trial["groups"].size());
  std::size_t verdict = 0;
  std::size_t animal = 0;
  std::size_t caveat = 0;
  for (std::size_t i = 0; i < groups.rows.size(); ++i) {
    const auto& group = trial["groups"][i];
    CHECK(cell(groups, i, "group") == group["group"]);
    CHECK(cell(groups, i, "verdict") == group["verdicts"][0]["class"]);
    CHECK(cell(groups, i, "next_step") == group["next_step"]);
    CHECK_THAT(number(groups, i, "reduction_percent"), as_in_sheet(group["reduction_percent"]));
    CHECK_THAT(number(groups, i, "lower_percent"), as_in_sheet(group["headline"]["lower_percent"]));
    for (const auto& each : group["per_animal"]) {
      CHECK(cell(animals, animal, "animal") == each["animal"]);
      if (each["epg_before"].is_null())
        CHECK(cell(animals, animal, "epg_before").empty());
      else
        CHECK_THAT(number(animals, animal, "epg_before"), as_in_sheet(each["epg_before"]));
      ++animal;
    }
    const auto compare = [&](const nlohmann::json& judged) {
      for (const auto& each : judged["verdicts"]) {
        CHECK(cell(verdicts, verdict, "criteria") == each["criteria"]);
        CHECK(cell(verdicts, verdict, "class") == each["class"]);
        CHECK(cell(verdicts, verdict++, "reason") == each["reason"]);
      }
      for (const auto& each : judged["caveats"]) {
        CHECK(cell(caveats, caveat, "severity") == each["severity"]);
        CHECK(cell(caveats, caveat, "code") == each["code"]);
        CHECK(cell(caveats, caveat++, "text") == each["text"]);
      }
    };
    compare(group);
    for (const auto& worm : group["worms"])
      compare(worm);
  }
  CHECK(verdict == verdicts.rows.size());
  CHECK(caveat == caveats.rows.size());
  const std::size_t controls =
      trial["control"].is_null() ? 0 : trial["control"]["per_animal"].size();
  CHECK(animal + controls == animals.rows.size());

  const Table settings = sheet_of(workbook, "Settings");
  CHECK(cell(settings, 0, "value") == json["version"]);
  CHECK(cell(settings, 1, "setting") == "level");
  CHECK_THAT(number(settings, 1, "value"), as_in_sheet(json["settings"]["level"]));
}

TEST_CASE("analyse --xlsx: header rows are bold and stay in view, and no cell is a formula") {
  const ScratchDirectory scratch;
  write_text(scratch.path("names.csv"),
             "group,animal,eggs_before,eggs_after,drench\n=1+1,+2,9,1,@SUM(A1)\n=1+1,-A1,8,0,\n"
             "\"a <b> & \"\"c\"\"\",_x0041_,8,0,\n\"a <b> & \"\"c\"\"\",2,8,,\n");
  const std::string command = "eggfall analyse '" + scratch.path("names.csv") +
                              "' --factor 50 --host sheep --seed 999999999999999999 --xlsx '";
  REQUIRE(run(command + scratch.path("r.xlsx") + "'").exit_code == 0);
  const std::string workbook = read_text(scratch.path("r.xlsx"));
  const Table groups = sheet_of(workbook, "Groups");
  REQUIRE(groups.rows.size() == 2);
  CHECK(cell(groups, 0, "group") == "=1+1");
  CHECK(cell(groups, 0, "drench") == "@SUM(A1)");
  CHECK(cell(groups, 1, "group") == "a <b> & \"c\"");
  const Table animals = sheet_of(workbook, "Animals");
  CHECK(cell(animals, 0, "animal") == "+2");
  CHECK(cell(animals, 1, "animal") == "-A1");
  CHECK(cell(animals, 2, "animal") == "_x0041_");
  CHECK(cell(animals, 3, "eggs_after").empty());
  CHECK(cell(animals, 3, "left_out") == "not sampled after treatment");
  CHECK(cell(sheet_of(workbook, "Settings"), 2, "value") == "999999999999999999");

  const pugi::xml_document styles = xml_of(workbook, "xl/styles.xml");
  const auto font_of_style_1 =
      styles.select_node("/styleSheet/cellXfs/xf[2]").node().attribute("fontId").as_int();
  CHECK(
      styles.select_node(fmt::format("/styleSheet/fonts/font[{}]/b", font_of_style_1 + 1).c_str()));
  for (int i = 1; i <= 6; ++i) {
    const pugi::xml_document sheet = xml_of(workbook, fmt::format("xl/worksheets/sheet{}.xml", i));
    CHECK(sheet.select_nodes("//f").empty());
    CHECK(sheet.select_node("//pane[@state='frozen'][@ySplit='1']"));
    CHECK(sheet.select_nodes("//row[@r='1']/c[@s='1']").size() ==
          sheet.select_nodes("//row[@r='1']/c").size());
    CHECK_FALSE(sheet.select_nodes("//row[@r='1']/c[@t='s']").empty());
  }
  std::string names;
  const pugi::xml_document book = xml_of(workbook, "xl/workbook.xml");
  for (const pugi::xml_node& sheet : book.document_element().child("sheets"))
    names += sheet.attribute("name").value() + std::string(" ");
  CHECK(names == "Groups Intervals Verdicts Animals Caveats Settings ");

  REQUIRE(run(command + scratch.path("again.xlsx") + "'").exit_code == 0);
  CHECK(read_text(scratch.path("again.xlsx")) == workbook);
}

TEST_CASE("analyse --xlsx: names of files that no XML can hold do not break the workbook") {
  const ScratchDirectory scratch;
  const std::string table = scratch.path("bad\xFF\x01name.csv");
  write_text(table, "group,animal,eggs_before,eggs_after\nT,1,9,1\nT,2,8,0\n");
  REQUIRE(run("eggfall analyse '" + table + "' --factor 50 --host sheep --xlsx '" +
              scratch.path("r.xlsx") + "'")
              .exit_code == 0);
  const Table groups = sheet_of(read_text(scratch.path("r.xlsx")), "Groups");
  CHECK(cell(groups, 0, "trial") == "bad\xEF\xBF\xBD name");
}

TEST_CASE("analyse --xlsx: written with the other files or not at all") {
  const ScratchDirectory scratch;
  const std::string analyse = "eggfall analyse examples/repeat-counts.csv --host sheep ";
  const Run nowhere = run(analyse + "--json '" + scratch.path("r.json") + "' --xlsx '" +
                          scratch.path("none/r.xlsx") + "'");
  CHECK(nowhere.exit_code == 2);
  CHECK_FALSE(std::filesystem::exists(scratch.path("r.json")));
  const Run both = run(analyse + "--json - --xlsx -");
  CHECK(both.exit_code == 2);
  CHECK(both.errors ==
        "eggfall: several outputs to \"-\"; expected one of them on standard output\n");
  const Run there = run(analyse + "--xlsx -");
  CHECK(there.exit_code == 0);
  CHECK(sheet_of(there.output, "Groups").rows.size() == 1);
  const Run unwritable =
      run("TMPDIR=/nowhere " + analyse + "--xlsx '" + scratch.path("r.xlsx") + "'");
  CHECK(unwritable.exit_code == 2);
  CHECK_FALSE(std::filesystem::exists(scratch.path("r.xlsx")));
}
