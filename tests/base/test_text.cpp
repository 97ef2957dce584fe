#include "base/text.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("Numbers are understood whole or not at all") {
  CHECK(parse_number("12") == 12.0);
  CHECK(parse_number("12,5") == 12.5);
  CHECK(parse_number("+3.5") == 3.5);
  CHECK(parse_number("-2") == -2.0);
  for (const char* text : {"", "12 eggs", "1.234,5", "1,2,3", "inf", "nan", "1e999", "0x10", "--1",
                           "+-1", ".", "1,250"})
    CHECK_FALSE(parse_number(text));
}

TEST_CASE("Text is wrapped at spaces, by characters and not bytes") {
  CHECK(wrapped("one two three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrapped("x abcdefghij b", 4) == std::vector<std::string>{"x", "abcd", "efgh", "ij b"});
  CHECK(wrapped("ab", 0) == std::vector<std::string>{"a", "b"});
  CHECK(wrapped("\xC3\xA9\xC3\xA9 \xC3\xA9", 4) ==
        std::vector<std::string>{"\xC3\xA9\xC3\xA9 \xC3\xA9"});
  CHECK(wrapped("", 10).empty());
}

TEST_CASE("Whole numbers are digits alone") {
  CHECK(parse_whole_number("1250") == 1250U);
  CHECK(parse_size("1250") == 1250U);
  CHECK_FALSE(parse_size("-1"));
  for (const char* text : {"", "1,250", "1.250", "-1", "+1", "1e3", "12 ", "9999999999999999999"})
    CHECK_FALSE(parse_whole_number(text));
}

TEST_CASE("Blanks of every kind are trimmed") {
  CHECK(trimmed("\xC2\xA0 \tw\xC2\xA0") == "w");
}

TEST_CASE("Bytes that are not UTF-8 are found where they stand") {
  CHECK_FALSE(first_invalid_utf8("caf\xC3\xA9"));
  CHECK(first_invalid_utf8("caf\xE9") == 3U);
  CHECK(first_invalid_utf8("a\xC0\x80") == 1U);
  CHECK(first_invalid_utf8("a\xED\xA0\x80") == 1U); // a surrogate
}

TEST_CASE("Found text is quoted short and clean") {
  CHECK(in_quotes("a\tb\n") == "\"a?b?\"");
  CHECK(in_quotes("a\xB5\xC3") == "\"a??\"");
  CHECK(in_quotes("a\xC2\x9B"
                  "b\xE2\x80\xAE") == "\"a?b?\""); // U+009B, U+202E
  CHECK(in_quotes("\xC3\xA9") == "\"\xC3\xA9\"");
  CHECK(in_quotes(std::string(60, 'x')) == "\"" + std::string(40, 'x') + "...\"");
}

TEST_CASE("Names in words") {
  CHECK(in_words({}).empty());
  CHECK(in_words({"A"}) == "A");
  CHECK(in_words({"A", "B"}) == "A and B");
  CHECK(in_words({"A", "B", "C"}) == "A, B and C");
}
