#include "base/softplus.hpp"

#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

TEST_CASE("Softplus is the logarithm of one more than the exponential") {
  // log 2, log 4 and log(4/3), to the 15 digits of a table of logarithms, but for a few roundings.
  constexpr double tabled = 1e-14;
  CHECK_THAT(softplus(0), support::close_to(0.693147180559945, tabled));
  CHECK_THAT(softplus(std::log(3.0)), support::close_to(1.386294361119891, tabled));
  CHECK_THAT(softplus(-std::log(3.0)), support::close_to(0.287682072451781, tabled));
}

TEST_CASE("Softplus neither overflows nor loses what is small") {
  CHECK(softplus(1000) == 1000);
  CHECK(softplus(-1000) == 0);
  // e^-40 to 10 digits; 1 + e^-40 is 1 in binary.
  CHECK_THAT(softplus(-40), support::close_to(4.248354255e-18, support::ten_digits));
}
