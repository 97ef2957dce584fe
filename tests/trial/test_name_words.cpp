#include "trial/name_words.hpp"

#include "eggfall/trial/read_trials.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

using namespace eggfall;

TEST_CASE("A group's name says untreated by its words, and by nothing within them") {
  for (const char* name :
       {"control", "Controls", "UNTREATED", "Untreated ewes", "keepers", "not treated", "no-drench",
        "mob B (control)", "CONTROL_GROUP", "\xEF\xBD\x83ontrol"}) { // a full-width c
    INFO(name);
    CHECK(sounds_untreated(name));
  }
  for (const char* name :
       {"", "white", "controlled release", "uncontrolled", "treated", "nil", "keeper", "drench"}) {
    INFO(name);
    CHECK_FALSE(sounds_untreated(name));
  }
}

TEST_CASE("A treated group with such a name is written so that it is read again as treated") {
  Trial trial{"t", {support::group("fly control", {9, 8}, {0, 1}, 15, 15)}};
  const std::string table = counts_table({trial});
  const TrialTable read = read_trials(table, "t.csv", {});
  CHECK(read.trials[0].groups[0].role == Role::treated);
  CHECK(read.trials[0].groups[0].name == "fly control");
}

TEST_CASE("A name that would be read as a sum is not written") {
  Trial trial{"t", {support::group("Mean", {9, 8}, {0, 1}, 15, 15)}};
  CHECK(support::input_error([&] { counts_table({trial}); }) ==
        "group: found \"Mean\", which tables say of a sum; expected another name");
}

TEST_CASE("Names that begin alike may be of one worm") {
  CHECK(may_be_one_worm("haemonchus", "haemonchus contortus"));
  CHECK(may_be_one_worm("trichuris", "trich"));
  CHECK(may_be_one_worm("nematodirus", "nematodirus"));
  CHECK(may_be_one_worm("ostertagia", "teladorsagia")); // the old name and the new
  CHECK(may_be_one_worm("brown stomach worm", "ostertagia"));
  CHECK_FALSE(may_be_one_worm("haemonchus", "teladorsagia"));
  CHECK_FALSE(may_be_one_worm("trichostrongylus", "trichuris"));
  CHECK_FALSE(may_be_one_worm("ne", "nematodirus")); // too short to tell
}

TEST_CASE("Words are looked up without case, marks and apostrophes") {
  CHECK(plain_words(" H. contortus ") == "h contortus");
  CHECK(plain_words("h.contortus") == "h contortus");
  CHECK(plain_words("Barber's  pole-worm") == "barbers pole worm");
  CHECK(plain_words("barber\xE2\x80\x99s_pole (worm)") == "barbers pole worm");
  CHECK(plain_words("(0.2 mg/kg)") == "0 2 mg kg");
  CHECK(plain_words("W\xC3\xBCrmer") == "w\xC3\xBCrmer");
  CHECK(plain_words("+-.").empty());
  CHECK(plain_words("").empty());
}

TEST_CASE("A cell says that its row is a sum by the whole of it") {
  for (const char* cell : {"Total", "TOTALS:", "mean", "Mean :", "Grand  total", "std dev", "S.D."})
    CHECK(is_sum_word(cell));
  for (const char* cell : {"", "Max", "n", "Total Eclipse", "mean one", "12"})
    CHECK_FALSE(is_sum_word(cell));
}
