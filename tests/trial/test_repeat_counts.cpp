#include "trial/repeat_counts.hpp"

#include "support/support.hpp"

using namespace eggfall;
using support::close_to;

namespace {

Count count(std::uint32_t eggs, double factor) {
  return {EggsSeen(eggs), MultiplicationFactor(factor)};
}

} // namespace

TEST_CASE("Two chambers recorded apart are one count of both") {
  // RVC/FAO Guide to Veterinary Parasitology, McMaster technique: 12 + 15 eggs in two chambers at
  // 50 EPG for an egg seen in both together (100 for one of them) are 1350 EPG.
  const Count both = *combined({count(12, 100), count(15, 100)});
  CHECK(both.eggs.value() == 27);
  CHECK(both.factor.value() == 50);
  CHECK(both.epg() == 1350);
  CHECK_FALSE(combined({}));
  CHECK(combined({count(7, 16.67)})->factor.value() == 16.67);
}

TEST_CASE("A recount of another volume weighs as much as its volume") {
  // 3 eggs at 50 (1/50 of a unit of volume) and 24 at 10 (1/10): 27 eggs in 0.12, so 225 EPG. The
  // average of the two EPG, (150 + 240) / 2 = 195, would give the small volume half the say.
  const Count both = *combined({count(3, 50), count(24, 10)});
  CHECK(both.eggs.value() == 27);
  CHECK_THAT(both.epg(), close_to(225.0));
  CHECK_THROWS_AS(combined({count(EggsSeen::largest, 50), count(1, 50)}), InputError);
}

TEST_CASE("Repeat counts that differ more than the luck of counting allows") {
  // R 4.2.2 chisq.test(), printed by tests/published/reference.R.
  const RepeatDispersion equal = repeat_dispersion({count(4, 50), count(11, 50), count(23, 50)});
  CHECK_THAT(equal.chi_squared, close_to(14.57894737));
  CHECK(equal.degrees_of_freedom == 2);
  CHECK_THAT(dispersion_p_value(equal), close_to(6.826872673e-04));
  const RepeatDispersion unequal = repeat_dispersion({count(12, 50), count(15, 50), count(40, 25)});
  CHECK_THAT(unequal.chi_squared, close_to(2.7910447761));
  CHECK_THAT(dispersion_p_value(unequal), close_to(0.2477036052));

  // Too few eggs for chi-squared: expected in the smallest volume 0.67; 1; 4.9 and 5 beside 30.
  CHECK(repeat_dispersion({count(1, 50), count(1, 25)}).degrees_of_freedom == 0);
  CHECK(repeat_dispersion({count(1, 50), count(2, 25)}).degrees_of_freedom == 1);
  CHECK(repeat_dispersion({count(9, 60), count(25, 10)}).degrees_of_freedom == 0);
  CHECK(repeat_dispersion({count(5, 60), count(30, 10)}).degrees_of_freedom == 1);
  CHECK(repeat_dispersion({count(4, 50)}).degrees_of_freedom == 0);
  CHECK(repeat_dispersion({count(0, 50), count(0, 50)}).degrees_of_freedom == 0);
}
