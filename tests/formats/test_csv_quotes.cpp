#include "formats/csv_quotes.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <string_view>

using namespace eggfall;

namespace {

/// What each character is: | a separator, ( the quote that starts a cell, q within quotes, ! text
/// behind a closing quote, . all else.
std::string kinds(std::string_view text, char separator = ',') {
  CsvQuotes quotes(separator);
  std::string shown;
  for (const char c : text) {
    const bool separates = quotes.separates(c);
    shown += separates                   ? '|'
             : quotes.opened()           ? '('
             : quotes.is_beside_quotes() ? '!'
             : quotes.is_open()          ? 'q'
                                         : '.';
  }
  return shown;
}

} // namespace

TEST_CASE("Separators within quotes part no cells") {
  CHECK(kinds("a,\"b,c\",d") == ".|(qqq.|.");
  CHECK(kinds("a;\"b;c\";d,e", ';') == ".|(qqq.|...");
  CHECK(kinds("\"a\nb\",c\n") == "(qqq.|..");
  CHECK(kinds("a, \"b,c\" ,d") == ".|.(qqq..|.");
  CHECK(kinds("a\t\"b\tc\"\td", '\t') == ".|(qqq.|.");
}

TEST_CASE("A doubled quote closes no cell, and one in the middle of a cell opens none") {
  CHECK(kinds("\"a\"\"b,c\",d") == "(q.qqqq.|.");
  CHECK(kinds("5\" long,\"\",x") == ".......|(.|.");
  CHECK(kinds("\"\"\"\",x") == "(.q.|.");
}

TEST_CASE("Text behind a closing quote is seen, and a line's end closes it off") {
  CHECK(kinds("\"a\"b,c") == "(q.!|.");
  CHECK(kinds("\"a\" \"b\"") == "(q..!!!");
  CHECK(kinds("\"a\"\r\n\"b\"") == "(q...(q.");
}

TEST_CASE("Cells are numbered from 1 in each row") {
  CsvQuotes quotes(',');
  for (const char c : std::string_view("a,\"b,\n,\",c"))
    quotes.separates(c);
  CHECK(quotes.column() == 3);
  quotes.separates('\n');
  CHECK(quotes.column() == 1);
}
