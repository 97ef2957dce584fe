#include "trial/missing_factor.hpp"

#include "support/support.hpp"

#include "eggfall/trial/read_trials.hpp"

using namespace eggfall;

namespace {

bool lacks_it_alone(const char* table) {
  try {
    read_trials(table, "t.csv", {});
  } catch (const InputError& error) {
    return lacks_the_factor_alone(error);
  }
  return false;
}

} // namespace

TEST_CASE("A table that lacks the factor and nothing else is told from one with other faults") {
  CHECK(lacks_it_alone("group,animal,eggs_before,eggs_after\nw,1,3,0\n"));
  CHECK_FALSE(lacks_it_alone("group,animal,eggs_before,eggs_after\nw,1,3,many\n"));
  CHECK_FALSE(lacks_it_alone("group,animal,eggs_before,eggs_after,factor_before,factor_after\n"
                             "w,1,3,0,50,50\n"));
  CHECK_FALSE(lacks_the_factor_alone(InputError("another")));
}

TEST_CASE("What is expected in place of a factor names its column") {
  CHECK(expected_factor("factor_before", "").text() ==
        "a column factor_before, or the setting factor (the bench calculator works it out from the "
        "bench figures)");
  CHECK(expected_factor("factor_after", "; a hint").text().ends_with("bench figures; a hint)"));
}
