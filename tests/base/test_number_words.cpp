#include "base/number_words.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("All but one are many") {
  CHECK(plural(1).empty());
  CHECK(plural(0) == "s");
  CHECK(plural(2) == "s");
}

TEST_CASE("A number has three digits, or all before the point") {
  CHECK(number(0) == "0");
  CHECK(number(0.012345) == "0.0123");
  CHECK(number(2.5) == "2.5");
  CHECK(number(99.44) == "99.4");
  CHECK(number(99.96) == "100");
  CHECK(number(100.4) == "100");
  CHECK(number(1'234'567.8) == "1234568");
  CHECK(number(-1234.4) == "-1234");
}

TEST_CASE("A plain number keeps its digits and has no power of ten") {
  CHECK(plain_number(0) == "0");
  CHECK(plain_number(33.3) == "33.3");
  CHECK(plain_number(1260) == "1260");
  CHECK(plain_number(12'345'678) == "12345678");
  CHECK(plain_number(1.0 / 3) == "0.3333333333");
}

TEST_CASE("A chance is never told as none or all") {
  CHECK(chance_of_100(0.0001) == "under 1");
  CHECK(chance_of_100(0.9999) == "over 99");
  CHECK(chance_of_100(0.834) == "83");
}

TEST_CASE("Of a long list three are named, and the others counted") {
  CHECK(listed({}).empty());
  CHECK(listed({"A"}) == "A");
  CHECK(listed({"A", "B", "C", "D"}) == "A, B, C and D");
  CHECK(listed({"A", "B", "C", "D", "E"}) == "A, B, C and 2 more");
}
