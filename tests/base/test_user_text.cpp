#include "base/user_text.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("Controls and separators of lines are blanks, in Unicode's Latin-1 block too") {
  CHECK(without_controls("a\nb\x1B[1m") == "a b [1m");
  CHECK(without_controls(std::string_view("a\0b", 3)) == "a b");
  CHECK(without_controls("a\xC2\x9B"
                         "31mb") == "a 31mb"); // U+009B, which a terminal takes as ESC [
  CHECK(without_controls("a\xE2\x80\xA8"
                         "b\xE2\x80\xA9"
                         "c") == "a b c"); // U+2028, U+2029
  CHECK(without_controls("a  b ") == "a  b ");
}

TEST_CASE("What turns the direction of writing, or nobody sees, goes") {
  CHECK(without_controls("gpj\xE2\x80\xAE"
                         "fdp") == "gpjfdp");                          // U+202E
  CHECK(without_controls("\xEF\xBB\xBFwhite\xE2\x80\x8B") == "white"); // U+FEFF, U+200B
  CHECK(without_controls("\xE2\x81\xA6left\xE2\x81\xA9") == "left");   // U+2066, U+2069
  CHECK(without_controls("so\xC2\xAD"
                         "ft") == "soft"); // U+00AD
  // The joiners stay: a family emoji and a Persian word need them.
  const std::string family = "\xF0\x9F\x91\xA9\xE2\x80\x8D\xF0\x9F\x91\xA7";
  CHECK(without_controls(family) == family);
  const std::string persian = "\xD9\x85\xDB\x8C\xE2\x80\x8C\xD8\xAE";
  CHECK(without_controls(persian) == persian);
}

TEST_CASE("What is no character is shown as the character for that") {
  const std::string replaced = "a\xEF\xBF\xBD"
                               "b";
  CHECK(without_controls("a\xEF\xBF\xBE"
                         "b") == replaced); // U+FFFE, which XML cannot hold
  CHECK(without_controls("a\xF0\x9F\xBF\xBF"
                         "b") == replaced); // U+1FFFF
  CHECK(without_controls("a\xE9"
                         "b") == replaced); // Latin-1
  CHECK(without_controls("a\xED\xA0\x80"
                         "b") == "a\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD"
                                 "b"); // half of a pair of UTF-16
}

TEST_CASE("A terminal is sent lines, and nothing that steers it") {
  CHECK(for_screen("one\n\x1B[31mtwo\n\nthree\r\n") == "one\n [31mtwo\n\nthree \n");
  CHECK(for_screen("").empty());
}

TEST_CASE("A name is kept in one form, however it was typed") {
  CHECK(normalised("  two\xC2\xA0\xE2\x80\x89 words \t") == "two words");
  CHECK(normalised("a  b") == "a b");
  // e and U+0301 is U+00E9: NFD as some systems write names of files, NFC as keyboards do.
  CHECK(normalised("me\xCC\x81rinos") == "m\xC3\xA9rinos");
  CHECK(normalised("white\nwash") == "white wash");
  CHECK(normalised("\xE2\x80\x8B").empty());
  CHECK(normalised("A-1") == "A-1");
  // Case is no matter of form.
  CHECK(normalised("W") != normalised("w"));
  // Once is enough.
  for (const char* text : {"A\xCC\x8A ngstr\xC3\xB6m", "\xEF\xAC\x81", "\xE1\x84\x92\xE1\x85\xA1"})
    CHECK(normalised(normalised(text)) == normalised(text));
}

TEST_CASE("Names that a reader takes for one have one look") {
  CHECK(look_of("White") == look_of("white"));
  CHECK(look_of("A-1") == look_of("A\xE2\x80\x93"
                                  "1"));                       // an en dash
  CHECK(look_of("A1") == look_of("\xEF\xBC\xA1\xEF\xBC\x91")); // full width
  CHECK(look_of("a\xE2\x80\x8D"
                "b") == look_of("ab"));
  CHECK(look_of("STRASSE") == look_of("stra\xC3\x9F"
                                      "e"));
  CHECK(look_of("white") != look_of("whites"));
}

TEST_CASE("ASCII is folded the short way as it is beside other letters") {
  const std::string other = "\xC3\xA9"; // é, which takes the long way
  for (char c = '!'; c <= '~'; ++c) {
    const std::string text(1, c);
    INFO(text);
    CHECK(look_of(other + text) == other + look_of(text));
    CHECK(unaccented_look_of(other + text) == "e" + unaccented_look_of(text));
    CHECK(spelt_out_look_of(other + text) == "e" + spelt_out_look_of(text));
  }
}

TEST_CASE("Accents are set aside, and umlauts spelt out, for looking words up") {
  const std::string march = "M\xC3\xA4rz"; // with an umlaut
  CHECK(unaccented_look_of(march) == "marz");
  CHECK(unaccented_look_of("MA\xCC\x88RZ") == "marz"); // a and U+0308
  CHECK(spelt_out_look_of(march) == "maerz");
  CHECK(spelt_out_look_of("MA\xCC\x88RZ") == "maerz");
  CHECK(unaccented_look_of("t\xC3\xA9moin") == "temoin");
  CHECK(spelt_out_look_of("t\xC3\xA9moin") == "temoin");
  CHECK(spelt_out_look_of("\xC5\x92ufs") == "oeufs"); // U+0152
  CHECK(unaccented_look_of("Gr\xC3\xB6\xC3\x9F"
                           "e") == "grosse");
  CHECK(unaccented_look_of("N\xC2\xBA") == "no"); // U+00BA, a raised o
}

namespace {

/// "eggs|Before^", where ^ marks a hump.
std::string runs_in(const std::string& text) {
  std::string out;
  for (const WordRun& run : word_runs(text))
    out += (out.empty() ? "" : "|") + text.substr(run.start, run.size) + (run.digits ? "#" : "") +
           (run.at_hump ? "^" : "");
  return out;
}

} // namespace

TEST_CASE("Runs of letters and of digits are parted by all else") {
  CHECK(runs_in("FEC1, pre-drench (epg)") == "FEC|1#|pre|drench|epg");
  CHECK(runs_in("eggsBefore") == "eggs|Before^");
  CHECK(runs_in("eggs Before") == "eggs|Before");
  CHECK(runs_in("EPGpre") == "EPGpre");
  CHECK(runs_in("14th") == "14#|th");
  CHECK(runs_in("m\xC3\xA4rz_2031") == "m\xC3\xA4rz|2031#");
  CHECK(runs_in("\xC3\x89"
                "cole\xC3\x89t\xC3\xA9") == "\xC3\x89"
                                            "cole|\xC3\x89t\xC3\xA9^");
  CHECK(runs_in("").empty());
  CHECK(runs_in(" -/#%?").empty());
}

TEST_CASE("Apostrophes, pluses and degrees part words or do not, by their neighbours") {
  CHECK(runs_in("ewe's no") == "ewe's|no");
  CHECK(runs_in("ewe\xE2\x80\x99s no") == "ewe\xE2\x80\x99s|no");
  CHECK(runs_in("d'oeufs") == "d|oeufs");
  CHECK(runs_in("d'song") == "d|song");
  CHECK(runs_in("BZ+LEV & ML") == "BZ+LEV|&|ML");
  CHECK(runs_in("D+14") == "D|14#");
  CHECK(runs_in("N\xC2\xB0 12") == "N\xC2\xB0|12#");
  CHECK(runs_in("12 \xC2\xB0"
                "C") == "12#|C");
  CHECK(runs_in("\xE2\x84\x96 7") == "\xE2\x84\x96|7#"); // U+2116
}
