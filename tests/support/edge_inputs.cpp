#include "support/edge_inputs.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <catch2/catch.hpp>

namespace support {
namespace {

std::string in_utf_16(const std::string& ascii, bool marked) {
  std::string bytes = marked ? "\xFF\xFE" : "";
  for (const char c : ascii)
    bytes += {c, '\0'};
  return bytes;
}

constexpr const char* mark = "\xEF\xBB\xBF";

} // namespace

const std::vector<EdgeInput>& edge_inputs() {
  static const std::vector<EdgeInput> inputs{
      {"nothing", ""},
      {"a byte-order mark alone", mark},
      {"two byte-order marks", std::string(mark) + mark},
      {"blanks and line ends", " \t\r\n\n\r  "},
      {"a NUL byte", std::string(1, '\0')},
      {"NUL bytes", std::string(1000, '\0')},
      {"bytes that are no text", std::string(300, '\xFF')},
      {"UTF-16 that is cut in the middle of a character", in_utf_16("a,b", true) + "c"},
      {"UTF-16 without its mark", in_utf_16("one,two\nthree,four\n", false)},
      {"one column", "x\n1\n2\n3\n"},
      {"a header alone", "one,two,three\n"},
      {"a header alone, with CRLF", "one,two,three\r\n"},
      {"separators alone", ",,,;;;\t\t\n,,,\n"},
      {"a huge cell", "one,two\n" + std::string(2'000'000, 'x') + ",1\n"},
      {"a row of a million cells", "one,two\n" + std::string(1'000'000, ',') + "\n"},
      {"a quote never closed", "one,two\n\"never"},
      {"brackets never closed", std::string(100'000, '[')},
      {"braces never closed", std::string(100'000, '{')},
      {"half a workbook", "PK\x03\x04rest of a workbook"},
      {"an old workbook", "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1rest"},
      {"a page of the web", "<!DOCTYPE html><html><body>Sign in</body></html>"},
      {"control characters", "\x1B[31mred\x07\n"},
      {"the number of nothing", "null"},
      {"a number", "1e999"},
  };
  return inputs;
}

void check_edge_inputs_refused(const std::string& source,
                               const std::function<void(const std::string&)>& read) {
  for (const EdgeInput& input : edge_inputs()) {
    INFO(input.name);
    std::string message;
    try {
      read(input.bytes);
      FAIL_CHECK("it is read");
    } catch (const eggfall::InputError& error) {
      message = error.what();
    }
    INFO(message.substr(0, 300));
    CHECK(message.find(source) != std::string::npos);
    CHECK((message.find("found ") != std::string::npos ||
           message.find("expected ") != std::string::npos));
    CHECK(!eggfall::first_invalid_utf8(message));
    CHECK(message.size() < 5'000);
  }
}

std::vector<EdgeInput> edge_forms_of(const std::string& text) {
  std::string crlf;
  for (const char c : text)
    crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
  return {{"as it is", text},
          {"with a byte-order mark", mark + text},
          {"with CRLF", crlf},
          {"with both", mark + crlf},
          {"without the end of its last line", text.substr(0, text.find_last_not_of('\n') + 1)},
          {"with blank lines behind it", text + "\n\n"}};
}

void check_edge_forms_alike(const std::string& text,
                            const std::function<std::string(const std::string&)>& shown) {
  const std::string expected = shown(text);
  CHECK(!expected.empty());
  for (const EdgeInput& form : edge_forms_of(text)) {
    INFO(form.name);
    CHECK(shown(form.bytes) == expected);
  }
}

} // namespace support
