#include "eggfall/base/error.hpp"

#include "base/problems.hpp"

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
  CHECK(Problem{"larvae", 0, 0, "", "-1", "0 or more"}.message() ==
        "larvae: found -1; expected 0 or more");
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

TEST_CASE("What is wrong with many rows alike is told in one line, with the place of each") {
  const auto decimal = [](std::size_t line, const std::string& found) {
    return Problem{"t.csv", line, 3, "eggs_before", found, "a whole number"};
  };
  const Problem other{"t.csv", 3, 4, "eggs_after", "\"x\"", "a whole number"};
  const std::string first =
      "t.csv:2: column 3 (eggs_before): found \"1,5\"; expected a whole number";
  const std::string of_other =
      "t.csv:3: column 4 (eggs_after): found \"x\"; expected a whole number";
  CHECK(std::string(
            InputError({decimal(2, "\"1,5\""), decimal(3, "\"2,5\""), other, decimal(9, "\"1,5\"")})
                .what()) == first + "; so too line 3 (\"2,5\"), line 9\n" + of_other);
  // Two are told each by itself, and so is what is wrong with the table as a whole.
  CHECK(std::string(InputError({decimal(2, "\"1,5\""), decimal(3, "\"1,5\"")}).what()) ==
        first + "\nt.csv:3: column 3 (eggs_before): found \"1,5\"; expected a whole number");
  const Problem whole{"t.csv", 0, 0, "", "one", "two"};
  CHECK(std::string(InputError({whole, whole, whole}).what()) ==
        "t.csv: found one; expected two\nt.csv: found one; expected two\n"
        "t.csv: found one; expected two");
}

TEST_CASE("Where no more problems are told, more may follow, and that is said") {
  Problems problems;
  std::string message;
  try {
    for (std::size_t line = 2;; ++line)
      problems.add({"t.csv", line, 1, "animal", "nothing", "a name"});
  } catch (const InputError& error) {
    message = error.what();
  }
  CHECK(message.find("so too line 3, line 4, ") != std::string::npos);
  CHECK(
      message.ends_with("line 21\nThese are the first 20: more may follow when they are mended."));
}

namespace {

/// A door's names that are like no other.
const SettingNames shouted{" & ",
                           [](const Mention& mention) {
                             return "<" + std::string(to_string(mention.setting)) +
                                    (mention.value.empty() ? "" : "=" + mention.value) + ">";
                           },
                           [](Setting setting) { return "@" + std::string(to_string(setting)); }};

} // namespace

TEST_CASE("A text that mentions settings has whatever names its reader has for them") {
  const Wording text = "name it (" + Mention{Setting::column, "group=Mob"} + "), or " +
                       Wording({Mention{Setting::day_before, "0"}, Mention{Setting::day_after}}) +
                       ".";
  CHECK(text.text() == "name it (the setting column group=Mob), or the setting day-before 0 and "
                       "the setting day-after.");
  CHECK(text.in(shouted) == "name it (<column=group=Mob>), or <day-before=0> & <day-after>.");
  CHECK(text.mentions_setting());
}

TEST_CASE("A value of several words is held together in the library's names") {
  CHECK(Wording(Mention{Setting::cell, "n d=none-seen"}).text() ==
        "the setting cell \"n d=none-seen\"");
  CHECK(Wording(Mention{Setting::bench_calculator}).text() == "the bench calculator");
}

TEST_CASE("A text that somebody typed is never taken for a setting") {
  for (const char* typed : {"--column", "the setting column", "{}", "<column>", ""}) {
    const Wording text(typed);
    CHECK(text.in(shouted) == typed);
    CHECK_FALSE(text.mentions_setting());
  }
}

TEST_CASE("What is wrong with a setting is told by its name") {
  try {
    refuse_setting(Setting::criteria, "\"x\"", "a or " + Mention{Setting::cut_offs});
    FAIL("nothing was refused");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()) == "criteria: found \"x\"; expected a or the setting cut-offs");
    CHECK(error.message(shouted) == "@criteria: found \"x\"; expected a or <cut-offs>");
  }
  CHECK(InputError("no table").message(shouted) == "no table");
}

TEST_CASE("Every setting has a name of its own, by which it is found again") {
  for (const Setting setting : all_settings)
    CHECK(parse_setting(to_string(setting)) == setting);
  CHECK_FALSE(parse_setting("colour"));
}
