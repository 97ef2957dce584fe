#include "formats/text_encoding.hpp"

#include "base/text.hpp"
#include "support/support.hpp"

#include <string>
#include <string_view>

using namespace eggfall;

namespace {

using namespace std::string_literals;

/// "encoding: text"
std::string decoded_shown(std::string_view bytes) {
  const DecodedText result = decoded(bytes, "t.csv");
  CHECK_FALSE(first_invalid_utf8(result.text));
  return std::string(result.encoding) + ": " + result.text;
}

std::string refused_text(std::string_view bytes) {
  return support::input_error([&] { decoded(bytes, "t.csv"); });
}

/// ASCII in UTF-16, each character with its zero before or behind it.
std::string wide(std::string_view ascii, bool little) {
  std::string bytes;
  for (const char c : ascii)
    bytes += little ? std::string{c, '\0'} : std::string{'\0', c};
  return bytes;
}

} // namespace

TEST_CASE("UTF-8 stays as it is, but for a byte-order mark") {
  CHECK(decoded_shown("") == "UTF-8: ");
  CHECK(decoded_shown("ear,eggs\n") == "UTF-8: ear,eggs\n");
  CHECK(decoded_shown("caf\xC3\xA9") == "UTF-8: caf\xC3\xA9");
  CHECK(decoded_shown("\xEF\xBB\xBF"
                      "caf\xC3\xA9") == "UTF-8: caf\xC3\xA9");
}

TEST_CASE("UTF-16 is known by its byte-order mark, in either order") {
  // U+00E9, and U+1F411 (a sheep) as its pair D83D DC11 (the Unicode Standard, 3.9, D91).
  CHECK(decoded_shown("\xFF\xFE"
                      "c\0\xE9\0\x3D\xD8\x11\xDC"s) == "UTF-16: c\xC3\xA9\xF0\x9F\x90\x91");
  CHECK(decoded_shown("\xFE\xFF\0c\0\xE9\xD8\x3D\xDC\x11"s) == "UTF-16: c\xC3\xA9\xF0\x9F\x90\x91");
  CHECK(decoded_shown("\xFF\xFE") == "UTF-16: ");
}

TEST_CASE("UTF-16 without a mark is known by its zeros, all in one place") {
  CHECK(decoded_shown(wide("ear;eggs", true)) == "UTF-16: ear;eggs");
  CHECK(decoded_shown(wide("ear;eggs", false)) == "UTF-16: ear;eggs");
  // Some letters of another script among them.
  CHECK(decoded_shown(wide("eggs;", true) + "\x3C\x04"s) == "UTF-16: eggs;\xD0\xBC");
  // Zeros in both places, or few of them, are no UTF-16.
  CHECK(refused_text("a\0\0b\0c"s) == "t.csv:1: found a NUL character; expected text");
  CHECK(refused_text("ear,eggs\n401,\0\n"s) == "t.csv:2: found a NUL character; expected text");
}

TEST_CASE("What is no UTF-8 is Windows-1252, of which Latin-1 is a part") {
  CHECK(decoded_shown("caf\xE9;B\xF6\x63k;12\xBD") ==
        "Windows-1252: caf\xC3\xA9;B\xC3\xB6\x63k;12\xC2\xBD");
  // The euro, quotes and dash that Latin-1 has not: U+20AC, U+201C, U+201D, U+2013.
  CHECK(decoded_shown("\x80\x93x\x94\x96") ==
        "Windows-1252: \xE2\x82\xAC\xE2\x80\x9Cx\xE2\x80\x9D\xE2\x80\x93");
  const std::string none = "\xEF\xBF\xBD"; // U+FFFD
  CHECK(decoded_shown("\x81\x8D-\x8F\x90\x9D") ==
        "Windows-1252: " + none + none + "-" + none + none + none);
  // Its last letter alone, with none before it, is no cut UTF-8.
  CHECK(decoded_shown("caf\xE9") == "Windows-1252: caf\xC3\xA9");
  std::string all;
  for (int i = 1; i < 256; ++i)
    all += static_cast<char>(i);
  CHECK(character_count(decoded(all, "t.csv").text) == 255);
}

TEST_CASE("A long text is converted whole") {
  std::string latin;
  for (int i = 0; i < 50'000; ++i)
    latin += "\xE9\x81x";
  const std::string text = decoded(latin, "t.csv").text;
  CHECK(text.size() == 50'000U * 6);
  CHECK(text.ends_with("\xC3\xA9\xEF\xBF\xBDx"));
  CHECK(decoded(wide(std::string(100'000, 'x'), true), "t.csv").text == std::string(100'000, 'x'));
}

TEST_CASE("A text that is cut in half, or not what it says, is refused") {
  const std::string cut = "is cut off in the middle of a character; expected a whole text; save or "
                          "copy it again";
  const std::string again = "; expected a text in UTF-8; save the table as \"CSV UTF-8\"";
  CHECK(refused_text("\xFF\xFE"
                     "a\0\n\0b"s) == "t.csv:2: found a text in UTF-16 that " + cut);
  CHECK(refused_text("\xFF\xFE"
                     "a\0\x3D\xD8"s) == "t.csv:1: found a text in UTF-16 that " + cut);
  CHECK(refused_text("\xFF\xFE"
                     "a\0\x11\xDC"
                     "b\0"s) ==
        "t.csv:1: found a text in UTF-16 with something that is no character" + again);
  CHECK(refused_text("B\xC3\xB6\x63k\ncaf\xC3") == "t.csv:2: found a text in UTF-8 that " + cut);
  CHECK(refused_text("B\xC3\xB6\x63k \xF0\x9F\x90") ==
        "t.csv:1: found a text in UTF-8 that " + cut);
  CHECK(refused_text("\xEF\xBB\xBF"
                     "a\ncaf\xE9,1\n") ==
        "t.csv:2: found the byte 0xE9, which is not UTF-8, in a text marked as UTF-8" + again);
  // UTF-32 starts as UTF-16 does.
  CHECK(refused_text("\xFF\xFE\0\0a\0\0\0"s) == "t.csv:1: found a NUL character; expected text");
}
