#include "trial/label_dose.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("A dose is the label's rate times the weight, rounded up to a step of the gun") {
  const LabelDose white = LabelDose::by_volume(0.2);
  CHECK(white.dose_ml(30, 0.1) == 6);     // 0.2 x 30 is 6.000000000000001 in binary
  CHECK(white.dose_ml(31.5, 0.1) == 6.3); // and so is 63 x 0.1
  CHECK(white.dose_ml(30, 2.5) == 7.5);
  CHECK(white.dose_ml(30.1, 0.5) == 6.5);
  CHECK(white.dose_ml(30, 0.5) == 6);
  CHECK(white.dose_ml(0.1, 0.5) == 0.5);
  CHECK_FALSE(white.mg_per_kg());
}

TEST_CASE("A label's rate by substance is one by volume at a strength") {
  // 7.5 mg per kg of a drench with 37.5 mg per mL: arithmetic, 0.2 mL per kg.
  const LabelDose yellow = LabelDose::by_substance(7.5, 37.5);
  CHECK_THAT(yellow.ml_per_kg(), support::close_to(0.2));
  CHECK(*yellow.mg_per_kg() == 7.5);
  CHECK(*yellow.mg_per_ml() == 37.5);
}

TEST_CASE("A label that gives so much for several kg gives its part for one") {
  CHECK(rate_per_kg(1, 5) == 0.2);
  CHECK(rate_per_kg(2, 10) == 0.2);
  CHECK(support::input_error([] { rate_per_kg(1, 0); }) ==
        "the weight that a label's dose is for, kg: found 0; expected 0.1 to 2000");
}

TEST_CASE("A rate, a weight or a step that cannot be is refused") {
  CHECK(support::input_error([] { LabelDose::by_volume(0); }) ==
        "the label's dose, mL per kg: found 0; expected 0.0001 to 2000");
  CHECK_THROWS_AS(LabelDose::by_substance(5, 0), InputError);
  CHECK_THROWS_AS(LabelDose::by_substance(-5, 1), InputError);
  CHECK_THROWS_AS(LabelDose::by_volume(0.2).dose_ml(0, 0.1), InputError);
  CHECK_THROWS_AS(LabelDose::by_volume(0.2).dose_ml(30, 0), InputError);
}
