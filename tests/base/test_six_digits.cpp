#include "base/six_digits.hpp"

#include "support/support.hpp"

#include <cmath>
#include <limits>

using namespace eggfall;

TEST_CASE("Six digits are kept, whatever the size of a number") {
  CHECK(six_digits(1.1212824971454918) == 1.12128);
  CHECK(six_digits(-0.000123456789) == -0.000123457);
  CHECK(six_digits(987654321.0) == 987654000.0);
  CHECK(six_digits(0.0) == 0.0);
  CHECK(six_digits(1e300) == 1e300);
}

TEST_CASE("What is no number stays none") {
  CHECK(std::isnan(six_digits(std::numeric_limits<double>::quiet_NaN())));
  CHECK(std::isinf(six_digits(std::numeric_limits<double>::infinity())));
  CHECK_FALSE(six_digits(std::optional<double>()).has_value());
  CHECK(six_digits(std::optional(0.123456789)) == 0.123457);
}
