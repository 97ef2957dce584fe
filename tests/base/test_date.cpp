#include "base/date.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("A date is read, written and named by its weekday") {
  // ISO 8601:2004, annex A: 2000-01-01 was a Saturday.
  const auto date = parse_date("2000-01-01");
  REQUIRE(date);
  CHECK(iso_date(*date) == "2000-01-01");
  CHECK(date_in_words(*date) == "Sat 1 January 2000");
  CHECK(date_in_words(*parse_date("2000-02-29")) == "Tue 29 February 2000");
}

TEST_CASE("What is no date of the calendar is none") {
  for (const char* text :
       {"", "2031-4-27", "27-04-2031", "2031-02-29", "2031-13-01", "2031-00-10", "1899-12-31",
        "2201-01-01", "2031/04/27", "2031-04-27 ", "+031-04-27", "20a1-04-27"}) {
    INFO(text);
    CHECK_FALSE(parse_date(text));
  }
}
