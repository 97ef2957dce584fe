#include "formats/table.hpp"

#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE("A text is read as rows of cells that know their lines") {
  const Table table = read_table("\nanimal,weight\n7,31.5\n\n,,\n8,\n", "m.csv", "animal");
  CHECK(table.source == Source("m.csv"));
  CHECK(table.header.line == 2);
  CHECK(table.header.cells == std::vector<std::string>{"animal", "weight"});
  // The blank line and the row of separators are left out, and lines are counted all the same.
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0].line == 3);
  CHECK(table.rows[0].cells == std::vector<std::string>{"7", "31.5"});
  CHECK(table.rows[1].line == 6);
  CHECK(table.rows[1].cells == std::vector<std::string>{"8", ""});
  CHECK(table.rows[1].unreadable.empty());
}

TEST_CASE("All rows of another width than the header's are told together") {
  CHECK(support::input_error([] { read_table("a,b,c\n1,2\n1,2,3\n1,2,3,4\n", "t.csv", "x"); }) ==
        "t.csv:2: found 2 cells; expected 3, as in the header\n"
        "t.csv:4: found 4 cells; expected 3, as in the header (a decimal comma needs semicolons "
        "between cells, or quotes)");
}

TEST_CASE("A text of more than 64 MiB is refused before it is read") {
  const std::string large((64U << 20U) + 1, 'x');
  CHECK(support::input_error([&] { read_table(large, "t.csv", "animal"); }) ==
        "t.csv: found 67108865 bytes; expected a table of at most 67108864 bytes");
}
