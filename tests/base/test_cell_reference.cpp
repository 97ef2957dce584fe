#include "base/cell_reference.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("Cells are named by letters and rows") {
  CHECK(to_string(CellReference{7, 3}) == "C7");
  CHECK(column_letters(26) == "Z");
  CHECK(column_letters(27) == "AA");
  CHECK(column_letters(702) == "ZZ");
  CHECK(column_letters(703) == "AAA");
  CHECK(to_string(last_cell) == "XFD1048576"); // the last of a sheet, by its makers
  for (std::size_t column = 1; column <= last_cell.column; column += 13)
    CHECK(parse_cell_reference(column_letters(column) + "12") == CellReference{12, column});
  for (const char* text : {"", "A", "7", "A0", "a1", "A1B", "XFE1", "A1048577", "$A$1", "A-1"})
    CHECK_FALSE(parse_cell_reference(text));
}
