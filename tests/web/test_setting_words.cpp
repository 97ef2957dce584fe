#include "web/setting_words.hpp"

#include "support/support.hpp"

using eggfall::web::in_setting_words;

TEST_CASE("What is an option on a command line is a setting in a page") {
  CHECK(in_setting_words("expected a column role, or the option --control white") ==
        "expected a column role, or the setting control white");
  CHECK(in_setting_words("name them (--column group=THEIRS), or --day-after THEIRS") ==
        "name them (the setting column group=THEIRS), or the setting day-after THEIRS");
  CHECK(in_setting_words("--criteria: found \"x\"") == "the setting criteria: found \"x\"");
  CHECK(in_setting_words("('eggfall factor' works it out from the bench figures)") ==
        "(the bench calculator works it out from the bench figures)");
}

TEST_CASE("A dash that somebody typed stays") {
  for (const char* text : {"found \"--\"", "found \"a--b\"", "a -- b", "--", ""}) {
    CAPTURE(text);
    CHECK(in_setting_words(text) == text);
  }
}
