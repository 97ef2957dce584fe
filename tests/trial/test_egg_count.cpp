#include "eggfall/trial/egg_count.hpp"

#include "support/support.hpp"

#include <limits>

using namespace eggfall;

TEST_CASE("EPG is eggs seen times the multiplication factor") {
  // RVC/FAO Guide to Veterinary Parasitology, McMaster technique, calculation of
  // results: 12 + 15 eggs in two chambers at factor 50 are 1350 EPG.
  CHECK((EggsSeen(12 + 15) * MultiplicationFactor(50)).value() == 1350);
}

TEST_CASE("Eggs behind an EPG are found only for a whole multiple of the factor") {
  CHECK(eggs_behind(Epg(1350), MultiplicationFactor(50)) == EggsSeen(27));
  CHECK(eggs_behind(Epg(0), MultiplicationFactor(50)) == EggsSeen(0));
  CHECK_FALSE(eggs_behind(Epg(1360), MultiplicationFactor(50)));
  CHECK_FALSE(eggs_behind(Epg(1e12), MultiplicationFactor(50)));
  SECTION("an EPG rounded to a whole number, of a factor that is not") {
    CHECK(eggs_behind(Epg(33), MultiplicationFactor(50.0 / 3)) == EggsSeen(2));
    CHECK(eggs_behind(Epg(17), MultiplicationFactor(50.0 / 3)) == EggsSeen(1));
    CHECK_FALSE(eggs_behind(Epg(25), MultiplicationFactor(50.0 / 3)));
    CHECK_FALSE(eggs_behind(Epg(16.9), MultiplicationFactor(50.0 / 3)));
  }
}

TEST_CASE("Impossible counts and factors are refused with their value") {
  CHECK(support::input_error([] { EggsSeen(1'000'001); }) ==
        "1000001 eggs seen in one sample; expected at most 1000000");
  CHECK_THROWS_AS(Epg(-1), InputError);
  CHECK_THROWS_AS(Epg(std::numeric_limits<double>::quiet_NaN()), InputError);
  for (const double factor : {0.0, -5.0, 1e-320, 1e9, std::numeric_limits<double>::infinity(),
                              std::numeric_limits<double>::quiet_NaN()})
    CHECK_THROWS_AS(MultiplicationFactor(factor), InputError);
}
