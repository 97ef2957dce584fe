#include "eggfall/base/source.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("A text has lines and numbered columns") {
  const Source text("t.csv");
  CHECK_FALSE(text.is_sheet());
  CHECK(text.shown() == "t.csv");
  CHECK(text.line(3) == "line 3");
  CHECK(text.column(27) == "column 27");
}

TEST_CASE("A sheet has rows and lettered columns") {
  const Source sheet("t.xlsx", "Counts");
  CHECK(sheet.is_sheet());
  CHECK(sheet.shown() == "t.xlsx, sheet \"Counts\"");
  CHECK(sheet.line(3) == "row 3");
  // Spreadsheets count A to Z, then AA.
  CHECK(sheet.column(3) == "column C");
  CHECK(sheet.column(27) == "column AA");
}

TEST_CASE("Two sheets of one workbook are two sources") {
  CHECK(Source("t.xlsx", "Counts") == Source("t.xlsx", "Counts"));
  CHECK_FALSE(Source("t.xlsx", "Counts") == Source("t.xlsx", "Larvae"));
  CHECK_FALSE(Source("t.xlsx", "Counts") == Source("t.xlsx"));
}
