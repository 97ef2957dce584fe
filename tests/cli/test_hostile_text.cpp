#include "cli/program.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include <filesystem>
#include <string>

// Texts that a file, its name or an option brings, on their way to a terminal, a page and a
// picture.

namespace {

const std::string header = "group,animal,eggs_before,eggs_after\n";

/// Nothing in it could steer a terminal: it is what for_screen() makes of it.
void check_fit_for_screen(const Run& result) {
  CHECK(result.output == eggfall::for_screen(result.output));
  CHECK(result.errors == eggfall::for_screen(result.errors));
}

/// A table in a file of this name.
std::string table_named(const ScratchDirectory& scratch, const std::string& name) {
  write_text(scratch.path(name), header + "w,1,9,1\nw,2,8,0\n");
  return scratch.path(name);
}

} // namespace

TEST_CASE("Names of files do not steer the terminal, in results, notes or messages") {
  const ScratchDirectory scratch;
  for (const char* name : {"a\x1B[31mb.csv",
                           "a\xC2\x9B"
                           "31mb.csv",
                           "gpj\xE2\x80\xAE"
                           "vsc.csv",
                           "a\nb.csv", "caf\xE9.csv"}) {
    const std::string table = table_named(scratch, name);
    const Run good = run("eggfall analyse '" + table + "' --factor 50 --host sheep");
    CHECK(good.exit_code == 0);
    check_fit_for_screen(good);
    const Run bad = run("eggfall analyse '" + table + "'"); // no factor
    CHECK(bad.exit_code == 2);
    check_fit_for_screen(bad);
    check_fit_for_screen(run("eggfall survey '" + table + "' --factor 50"));
    check_fit_for_screen(run("eggfall analyse '" + table + "x'"));
  }
}

TEST_CASE("A name of a file in Latin-1 leaves every result whole and in UTF-8") {
  const ScratchDirectory scratch;
  const std::string table = table_named(scratch, "caf\xE9.csv");
  const Run result =
      run("cd '" + scratch.path() + "' && eggfall analyse '" + table +
          "' --factor 50 --json r.json --csv r.csv --report r.html --figures f --xlsx r.xlsx");
  CHECK(result.exit_code == 0);
  for (const char* file : {"r.json", "r.csv", "r.html"}) {
    INFO(file);
    CHECK_FALSE(eggfall::first_invalid_utf8(read_text(scratch.path(file))));
  }
  CHECK(nlohmann::json::parse(read_text(scratch.path("r.json")))["trials"][0]["trial"] ==
        "caf\xEF\xBF\xBD");
}

TEST_CASE("Names with what no picture can hold, and hundreds of groups, are drawn") {
  const ScratchDirectory scratch;
  std::string rows = header;
  for (int group = 0; group < 200; ++group)
    rows += fmt::format("w{0}\xEF\xBF\xBE,1,9,1\nw{0}\xEF\xBF\xBE,2,8,0\n", group); // U+FFFE
  write_text(scratch.path("t.csv"), rows);
  const Run result = run("cd '" + scratch.path() +
                         "' && eggfall analyse t.csv --factor 50 --simulations 0 --figures f "
                         "--report r.html");
  CHECK(result.errors.empty());
  REQUIRE(result.exit_code == 0);
  std::size_t drawn = 0;
  for (const auto& entry : std::filesystem::directory_iterator(scratch.path("f"))) {
    INFO(entry.path());
    if (entry.path().extension() != ".svg")
      continue;
    CHECK(pugi::xml_document().load_file(entry.path().c_str()));
    ++drawn;
  }
  CHECK(drawn >= 200); // one a group
  CHECK_THAT(read_text(scratch.path("r.html")), Catch::Contains("w199\xEF\xBF\xBD"));
}

TEST_CASE("Texts in TOML do not steer the terminal, nor get into a table that is written") {
  const ScratchDirectory scratch;
  const std::string scenario = R"(schema = "eggfall.scenario/1"
name = "hostile"
title = "\u001b[31mred"
farm = "Thistle\u202e Down"
eggs = 12
factor_before = 15

[[groups]]
name = "\u0000\u001b[31m\u009b\u202ehill"
drench = "yellow\u0007 drench"
animals = 10
efficacy_percent = 90
)";
  write_text(scratch.path("s.toml"), scenario);
  const Run made =
      run("cd '" + scratch.path() + "' && eggfall simulate --scenario s.toml --counts c.csv");
  CHECK(made.exit_code == 0);
  check_fit_for_screen(made);
  const std::string table = read_text(scratch.path("c.csv"));
  CHECK(table.find_first_of(std::string("\0\x1B", 2)) == std::string::npos);
  CHECK(table.find("\xC2\x9B") == std::string::npos);
  CHECK(run("eggfall analyse '" + scratch.path("c.csv") + "'").exit_code == 0);

  std::string cut_offs = read_text(EGGFALL_SOURCE_DIR "/examples/own-cut-offs.toml");
  const std::size_t title = cut_offs.find("title = \"");
  REQUIRE(title != std::string::npos);
  cut_offs.insert(title + std::string("title = \"").size(), "\\u001b[2J\\u202e");
  write_text(scratch.path("c.toml"), cut_offs);
  for (const char* command : {"cutoffs --file ", "analyse examples/brackenhill.csv --simulations 0 "
                                                 "--verbose --cutoffs "}) {
    const Run shown = run("eggfall " + std::string(command) + "'" + scratch.path("c.toml") + "'");
    CHECK(shown.exit_code == 0);
    check_fit_for_screen(shown);
  }
}

TEST_CASE("A title in a merged result neither steers the terminal nor the page") {
  const ScratchDirectory scratch;
  std::string own = read_text(EGGFALL_SOURCE_DIR "/examples/own-cut-offs.toml");
  const std::size_t title = own.find("title = \"") + std::string("title = \"").size();
  own.replace(title, own.find('"', title) - title, "```` <script>alert(1)</script> ```");
  write_text(scratch.path("c.toml"), own);
  const Run made = run("cd '" + scratch.path() +
                       "' && eggfall audit --cutoffs c.toml --animals 10 --trials 20 "
                       "--page 'a <b>(c).md' --json a.json");
  REQUIRE(made.exit_code == 0);
  const std::string page = read_text(scratch.path("a <b>(c).md"));
  CHECK_THAT(page, Catch::StartsWith("# Audit: a \\<b\\>\\(c\\)\n"));
  CHECK_THAT(page, !Catch::Contains("<script>") && !Catch::Contains("```") &&
                       Catch::Contains("\\<script\\>alert(1)"));
  REQUIRE(run("cd '" + scratch.path() + "' && eggfall audit --merge a.json --page 'a <b>.html'")
              .exit_code == 0);
  CHECK_THAT(read_text(scratch.path("a <b>.html")), !Catch::Contains("<script>") &&
                                                        !Catch::Contains("a <b>") &&
                                                        Catch::Contains("&lt;script&gt;alert(1)"));

  std::string merged = read_text(scratch.path("a.json"));
  const std::size_t position = merged.find("alert(1)");
  REQUIRE(position != std::string::npos);
  merged.replace(position, 8, "\\u001b]0;x\\u0007\\u202e");
  write_text(scratch.path("a.json"), merged);
  const Run shown = run("eggfall audit --verbose --merge '" + scratch.path("a.json") + "'");
  CHECK(shown.exit_code == 0);
  check_fit_for_screen(shown);
}
