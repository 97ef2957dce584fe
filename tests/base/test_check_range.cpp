#include "base/check_range.hpp"

#include "support/support.hpp"

#include <limits>

using namespace eggfall;

TEST_CASE("A value at either end of its range is in it") {
  CHECK_NOTHROW(check_range("k", 0.05, 0.05, 20));
  CHECK_NOTHROW(check_range("k", 20, 0.05, 20));
  CHECK_NOTHROW(check_range("k", 1, 1, 1));
}

TEST_CASE("A value out of its range is refused with the range") {
  CHECK(support::input_error([] { check_range("the spread k", 20.5, 0.05, 20); }) ==
        "the spread k: found 20.5; expected 0.05 to 20");
  CHECK(support::input_error([] { check_range("the spread k", 0, 0.05, 20); }) ==
        "the spread k: found 0; expected 0.05 to 20");
  // What is no number lies in no range.
  CHECK(support::input_error([] {
          check_range("eggs", std::numeric_limits<double>::quiet_NaN(), 0, 1'000);
        }) == "eggs: found nan; expected 0 to 1000");
  CHECK(support::input_error([] {
          check_range("eggs", std::numeric_limits<double>::infinity(), 0, 1'000);
        }) == "eggs: found inf; expected 0 to 1000");
}
