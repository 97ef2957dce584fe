#include "formats/csv_row.hpp"

#include "eggfall/base/percent.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("A cell that a spreadsheet would carry out gets an apostrophe before it") {
  CHECK(csv_cell("=HYPERLINK(\"x\")") == "\"'=HYPERLINK(\"\"x\"\")\"");
  CHECK(csv_cell("@SUM(A1)") == "'@SUM(A1)");
  CHECK(csv_cell("+1+1") == "'+1+1");
  CHECK(csv_cell("-1+1") == "'-1+1");
  CHECK(csv_cell("\t=1") == "\"'\t=1\"");
  CHECK(csv_cell("\r=1") == "\"'\r=1\"");
  CHECK(csv_cell("-") == "'-");
}

TEST_CASE("Numbers and plain words stay as they are") {
  for (const char* text : {"-12", "+5", "-1.5", "12", "a=b", "north-east", "", "'t"}) {
    INFO(text);
    CHECK(csv_cell(text) == text);
  }
  CHECK(csv_cell("a,b") == "\"a,b\"");
  CHECK(csv_cell("a;b") == "\"a;b\"");
  CHECK(csv_cell("a \"b\"") == "\"a \"\"b\"\"\"");
  CHECK(csv_cell(std::optional<double>(-3)) == "-3");
}

TEST_CASE(
    "A proportion is written as JSON has it, and so again after it was read back from there") {
  // By 100 * proportion alone, the first would be 0.195312 and the second 0.195313.
  const double fall = 1 - 2555.0 / 2560;
  CHECK(percent_csv_cell(fall) == "0.195313");
  CHECK(percent_csv_cell(of_percent(in_percent(fall))) == "0.195313");
  CHECK(percent_csv_cell(0.5) == "50.000000");
  CHECK(percent_csv_cell(std::nullopt).empty());
}
