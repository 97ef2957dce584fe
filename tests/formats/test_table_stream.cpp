#include "formats/table_stream.hpp"

#include "base/problems.hpp"
#include "support/made_workbook.hpp"
#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;

namespace {

using Cells = std::vector<std::string>;

struct Taken {
  std::vector<Cells> rows;
  TableBuilder::Take take = [this](TableRow&& row) { rows.push_back(row.cells); };
};

} // namespace

TEST_CASE("A row of a text is handed over as soon as its line ends") {
  Problems problems;
  TableStream stream("t.csv", "animal", problems);
  Taken taken;
  stream.feed("a", taken.take);
  stream.feed(",b\n1,2\n3", taken.take);
  CHECK(taken.rows == std::vector<Cells>{{"1", "2"}});
  CHECK(stream.header().cells == Cells{"a", "b"});
  stream.feed(",4\n5,6", taken.take);
  CHECK(taken.rows == std::vector<Cells>{{"1", "2"}, {"3", "4"}});
  stream.finish(taken.take);
  CHECK(taken.rows == std::vector<Cells>{{"1", "2"}, {"3", "4"}, {"5", "6"}});
  CHECK(stream.source() == Source("t.csv"));
  CHECK_FALSE(problems.any());
}

TEST_CASE("A text of fewer bytes than tell a workbook is a text") {
  Problems problems;
  TableStream stream("t.csv", "animal", problems);
  Taken taken;
  stream.feed("a,b", taken.take);
  CHECK(support::input_error([&] { stream.finish(taken.take); }) ==
        "t.csv: found only a header line; expected one line an animal below it");
}

TEST_CASE("The rows of a workbook come at its end, when its sheet is known") {
  const std::string bytes =
      workbook_of("<row><c t=\"str\"><v>a</v></c><c t=\"str\"><v>b</v></c></row>"
                  "<row><c><v>1</v></c><c><v>2</v></c></row>");
  Problems problems;
  TableStream stream("t.xlsx", "animal", problems);
  Taken taken;
  for (const char byte : bytes)
    stream.feed(std::string(1, byte), taken.take);
  CHECK(taken.rows.empty());
  CHECK_FALSE(stream.source().is_sheet());
  stream.finish(taken.take);
  CHECK(taken.rows == std::vector<Cells>{{"1", "2"}});
  CHECK(stream.source() == Source("t.xlsx", "Counts"));
}

TEST_CASE("A workbook is held up to 64 MiB, and then refused") {
  const std::string megabyte(1U << 20U, 'x');
  Problems problems;
  TableStream stream("t.xlsx", "animal", problems);
  Taken taken;
  stream.feed("PK\x03\x04", taken.take);
  for (int i = 0; i < 63; ++i)
    stream.feed(megabyte, taken.take);
  CHECK(support::input_error([&] { stream.feed(megabyte, taken.take); }) ==
        "t.xlsx: found more than 67108864 bytes; expected a smaller workbook");
}
