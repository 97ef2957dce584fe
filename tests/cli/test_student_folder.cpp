#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <string>

namespace {

Run teach(const std::string& folder, int students) {
  return run("eggfall teach --folder '" + folder + "' --students " + std::to_string(students));
}

} // namespace

TEST_CASE("A page that no class pack wrote is not replaced") {
  for (const char* name : {"index.html", "answers.html", "truth.json", "tables"}) {
    const ScratchDirectory scratch;
    write_text(scratch.path(name), "<p>somebody's own</p>");
    const Run result = teach(scratch.path(), 1);
    CHECK(result.exit_code == 2);
    CHECK(result.errors ==
          "eggfall: " + scratch.path(name) +
              ": found something that no class pack wrote; expected a new or empty "
              "folder, or that of an earlier class\n");
    CHECK(read_text(scratch.path(name)) == "<p>somebody's own</p>");
    CHECK_FALSE(std::filesystem::is_directory(scratch.path("tables")));
  }
}

TEST_CASE("An earlier class is replaced, but not by a smaller one that would leave its sheets") {
  const ScratchDirectory scratch;
  write_text(scratch.path("notes.txt"), "for Tuesday"); // of no concern to the pack
  REQUIRE(teach(scratch.path(), 3).exit_code == 0);
  REQUIRE(teach(scratch.path(), 3).exit_code == 0);
  const Run smaller = teach(scratch.path(), 2);
  CHECK(smaller.exit_code == 2);
  CHECK(smaller.errors ==
        "eggfall: " + scratch.path("tables/worksheet-03.csv") +
            ": found a worksheet of a larger class than 2; expected a new or empty "
            "folder, so that no student is handed an old sheet\n");
  CHECK(std::filesystem::exists(scratch.path("tables/worksheet-03.csv")));
  CHECK(read_text(scratch.path("notes.txt")) == "for Tuesday");
}
