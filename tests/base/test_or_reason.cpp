#include "eggfall/base/or_reason.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

OrReason<double> mean(const std::vector<double>& values) {
  if (values.empty())
    return WhyNot{"there are no values"};
  double sum = 0;
  for (const double value : values)
    sum += value;
  return sum / static_cast<double>(values.size());
}

} // namespace

TEST_CASE("A result is a value, or the reason why there is none") {
  const auto some = mean({1, 2, 6});
  REQUIRE(some);
  CHECK(*some == 3);
  CHECK(some.why_not().empty());

  const auto none = mean({});
  CHECK_FALSE(none.has_value());
  CHECK(none.why_not() == "there are no values");
  CHECK_THROWS_AS(*none, std::bad_optional_access);
}

TEST_CASE("What is made of a missing value is missing for the same reason") {
  const auto doubled = [](double value) { return std::to_string(2 * value); };
  CHECK(mean({}).transformed(doubled).why_not() == "there are no values");
  CHECK(mean({4}).transformed(doubled)->starts_with("8"));
}
