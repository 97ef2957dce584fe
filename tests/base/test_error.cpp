#include "eggfall/base/error.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE("A problem of a text is told by its line and column") {
  CHECK(Problem{"t.csv", 3, 2, "eggs_before", "\"x\"", "a number"}.message() ==
        "t.csv:3: column 2 (eggs_before): found \"x\"; expected a number");
  CHECK(Problem{"t.csv", 3, 2, "", "\"x\"", "a number"}.message() ==
        "t.csv:3: column 2: found \"x\"; expected a number");
  CHECK(Problem{"t.csv", 3, 0, "role", "two", "one"}.message() ==
        "t.csv:3: role: found two; expected one");
  CHECK(Problem{"t.csv", 3, 0, "", "two", "one"}.message() == "t.csv:3: found two; expected one");
  CHECK(Problem{"t.csv", 0, 0, "role", "two", "one"}.message() ==
        "t.csv: role: found two; expected one");
  CHECK(Problem{"--seed", 0, 0, "", "-1", "0 or more"}.message() ==
        "--seed: found -1; expected 0 or more");
}

TEST_CASE("A problem of a sheet is told by its cell") {
  const Source sheet("t.xlsx", "Counts");
  CHECK(Problem{sheet, 7, 3, "eggs_before", "\"x\"", "a number"}.message() ==
        "t.xlsx, sheet \"Counts\", C7 (eggs_before): found \"x\"; expected a number");
  // A spreadsheet calls the column after Z, the 26th, AA.
  CHECK(Problem{sheet, 7, 27, "", "\"x\"", "a number"}.message() ==
        "t.xlsx, sheet \"Counts\", AA7: found \"x\"; expected a number");
  CHECK(Problem{sheet, 7, 0, "", "two", "one"}.message() ==
        "t.xlsx, sheet \"Counts\", row 7: found two; expected one");
  CHECK(Problem{sheet, 0, 0, "", "nothing", "a header"}.message() ==
        "t.xlsx, sheet \"Counts\": found nothing; expected a header");
}

TEST_CASE("An error of several problems has a line for each, and keeps them") {
  const InputError error(std::vector<Problem>{{"t.csv", 2, 0, "", "two", "one"},
                                              {"t.csv", 5, 1, "animal", "nothing", "a name"}});
  CHECK(std::string(error.what()) == "t.csv:2: found two; expected one\n"
                                     "t.csv:5: column 1 (animal): found nothing; expected a name");
  REQUIRE(error.problems().size() == 2);
  CHECK(error.problems()[1].column_name == "animal");

  const InputError plain("no such thing");
  CHECK(std::string(plain.what()) == "no such thing");
  CHECK(plain.problems().empty());
}
