#include "intake/some_eggs.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("Words and marks for many eggs, or for some, say that there were eggs") {
  for (const std::string cell :
       {"TNTC", "too numerous to count", "Many", "very heavy", "POS", "positive", "+", "+++", "(+)",
        "+/-", "few eggs", "traces", "massenhaft", "tr\xC3\xA8s nombreux", "muchos huevos"}) {
    INFO(cell);
    CHECK(says_some_eggs(cell));
  }
}

TEST_CASE("What says none, nothing or a number says nothing of some eggs") {
  for (const std::string cell : {"", "0", "neg", "not seen", "no eggs", "nil", "n/s", "eggs", "450",
                                 "-", "Manya", "not many"}) {
    INFO(cell);
    CHECK_FALSE(says_some_eggs(cell));
  }
}

TEST_CASE("The least that a count beyond a number can be is that number") {
  CHECK(least_of(">1000") == "1000");
  CHECK(least_of("> 1,000 EPG") == "1,000");
  CHECK(least_of("\xE2\x89\xA5"
                 "500") == "500");
  CHECK(least_of(">=500") == "500");
  CHECK(least_of("1000+") == "1000");
  CHECK_FALSE(least_of("1000"));
  CHECK_FALSE(least_of("<50"));
  CHECK_FALSE(least_of(">"));
}
