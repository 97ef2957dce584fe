#include "formats/csv_stream.hpp"

#include "base/problems.hpp"
#include "support/support.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>

using namespace eggfall;

namespace {

/// The header and the rows of a text that comes in pieces of `size` bytes: "2 a|b", a line a row.
std::string rows_of(std::string_view text, std::size_t size) {
  const Source source("t.csv");
  Problems problems;
  TableBuilder builder(source, "animal", problems);
  CsvStream stream(builder);
  std::string rows;
  const auto take = [&](TableRow&& row) {
    rows += fmt::format("{} {}\n", row.line, fmt::join(row.cells, "|"));
  };
  for (; !text.empty(); text.remove_prefix(std::min(size, text.size())))
    stream.feed(text.substr(0, size), take);
  stream.finish(take);
  problems.throw_if_any();
  const TableRow& header = builder.header();
  return fmt::format("{} {}\n{}", header.line, fmt::join(header.cells, "|"), rows);
}

} // namespace

TEST_CASE("Cells are parted as RFC 4180 says, wherever the text is cut") {
  // A byte-order mark, a quoted delimiter, doubled quotes, a quoted line end, which becomes a
  // space, a blank line, and no line end at last.
  const std::string text = "\xEF\xBB\xBFname;note\r\n"
                           "a;\"x;y \"\"z\"\"\"\r\n"
                           "\r\n"
                           "b;\"two\r\nlines\"\r\n"
                           " c ;last";
  const std::string rows = "1 name|note\n"
                           "2 a|x;y \"z\"\n"
                           "4 b|two lines\n"
                           "6 c|last\n";
  for (std::size_t size = 1; size <= text.size(); ++size)
    CHECK(rows_of(text, size) == rows);
}

TEST_CASE("The delimiter is what the header line holds most of") {
  CHECK(rows_of("a,1;b;c\n1;2;3\n", 4) == "1 a,1|b|c\n2 1|2|3\n");
  CHECK(rows_of("a\tb,1\tc\n1\t2,5\t3\n", 4) == "1 a|b,1|c\n2 1|2,5|3\n");
  CHECK(rows_of("a,b;1\n1,2\n", 4) == "1 a|b;1\n2 1|2\n");
  SECTION("after a line that names it, or blank ones") {
    CHECK(rows_of("sep=;\na;b\n1;2\n", 4) == "2 a|b\n3 1|2\n");
    CHECK(rows_of("\n \t\na;b\n1;2\n", 4) == "3 a|b\n4 1|2\n");
  }
}

TEST_CASE("A cell may hold a thousand bytes, and no more") {
  const std::string longest(1'000, 'x');
  CHECK(rows_of("a,b\n1," + longest + "\n", 64) == "1 a|b\n2 1|" + longest + "\n");
  CHECK(support::input_error([&] { rows_of("a,b\n1," + longest + "x\n", 64); }) ==
        "t.csv:2: column 2: found a cell of more than 1000 bytes; expected a shorter one (is a "
        "quote left open?)");
}
