#include "formats/date_serial.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("Days are counted as spreadsheets count them") {
  // A spreadsheet's 36,526 is 2000-01-01 from 1900, and 35,064 from 1904: 1,462 days less.
  const auto from_1900 = [](double serial) {
    return date_of_serial(serial, DateSystem::from_1900);
  };
  CHECK(from_1900(1) == "1900-01-01");
  CHECK(from_1900(59) == "1900-02-28");
  CHECK(from_1900(60) == "1900-02-29");
  CHECK(from_1900(61) == "1900-03-01");
  CHECK(from_1900(36'526) == "2000-01-01");
  CHECK(from_1900(36'526.999) == "2000-01-01");
  CHECK(from_1900(2'958'465) == "9999-12-31");
  CHECK_FALSE(from_1900(2'958'466));
  CHECK_FALSE(from_1900(0.5));
  CHECK_FALSE(from_1900(-1));
  CHECK(date_of_serial(0, DateSystem::from_1904) == "1904-01-01");
  CHECK(date_of_serial(35'064, DateSystem::from_1904) == "2000-01-01");
  CHECK_FALSE(date_of_serial(-1, DateSystem::from_1904));
}

TEST_CASE("A number format shows dates if it has a d, m or y of its own") {
  for (const char* code :
       {"yyyy\\-mm\\-dd", "d\\ mmm", "[$-409]DD/MM/YYYY;@", "h:mm AM/PM", "\"on \"dd", "[Red]yy"})
    CHECK(is_date_format(std::string(code)));
  for (const char* code : {"General", "0.00", "0\" day\"", "\\d0", "0_d", "0*m", "[Red]0", "[mm]0",
                           "#,##0\" mL", "@", ""})
    CHECK_FALSE(is_date_format(std::string(code)));
  for (const unsigned id : {14U, 22U, 27U, 36U, 45U, 47U, 50U, 58U})
    CHECK(is_date_format(id));
  for (const unsigned id : {0U, 13U, 23U, 26U, 37U, 44U, 48U, 49U, 59U, 164U})
    CHECK_FALSE(is_date_format(id));
}
