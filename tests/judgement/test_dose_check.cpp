#include "eggfall/judgement/dose_check.hpp"

#include "support/support.hpp"

#include <limits>

using namespace eggfall;

namespace {

using Indices = std::vector<std::size_t>;

/// An animal on a drench of 25 mg per mL at 5 mg per kg: 5 / 25 = 0.2 mL per kg.
Animal lamb(const std::string& tag, std::optional<double> weight_kg,
            std::optional<double> dose_ml) {
  Animal animal;
  animal.tag = tag;
  animal.weight_kg = weight_kg;
  animal.dose_ml = dose_ml;
  animal.label_ml_per_kg = 0.2;
  animal.mg_per_ml = 25;
  return animal;
}

Group group_of(std::vector<Animal> animals) {
  Group group;
  group.name = "T";
  group.animals = std::move(animals);
  return group;
}

} // namespace

TEST_CASE("The dose as a share of the label's, and in mg per kg") {
  // 40 kg need 0.2 x 40 = 8 mL; 6 mL are 6/8 = 75%, and 6 x 25 / 40 = 3.75 mg per kg, which is
  // 75% of the label's 5 mg per kg as well.
  const DoseCheck check = check_doses(group_of({lamb("1", 40, 6)}));
  const AnimalDose& dose = check.animals.front();
  CHECK_THAT(*dose.needed_ml, support::close_to(8));
  CHECK_THAT(*dose.share, support::close_to(0.75));
  CHECK_THAT(*dose.mg_per_kg, support::close_to(3.75));
  CHECK_THAT(*dose.mg_per_kg / 5, support::close_to(*dose.share));

  Animal unknown = lamb("1", 40, 6);
  unknown.mg_per_ml.reset();
  CHECK_FALSE(check_doses(group_of({unknown})).animals.front().mg_per_kg);
  CHECK(check_doses(group_of({unknown})).animals.front().share);
}

TEST_CASE("One setting of the gun for a group") {
  // 7 mL for all. Needed at 0.2 mL per kg: 4.6, 6.8, 8.4 and 9 mL; shares 7/4.6 = 152.17%,
  // 102.94%, 83.33% and 77.78%.
  const DoseCheck check = check_doses(
      group_of({lamb("601", 23, 7), lamb("602", 34, 7), lamb("603", 42, 7), lamb("605", 45, 7)}));
  CHECK(check.checked == 4);
  CHECK(check.under == Indices{2, 3});
  CHECK(check.over == Indices{0});
  CHECK(check.lowest == 3);
  CHECK(check.highest == 0);
  CHECK_THAT(*check.animals[3].share, support::close_to(7.0 / 9));
  CHECK_THAT(*check.animals[0].share, support::close_to(7 / 4.6));
  CHECK(check.one_dose_ml == 7);
  CHECK(check.heaviest == 3);
  CHECK_THAT(*check.animals[3].needed_ml, support::close_to(9));
  CHECK(check.not_weighed.empty());
  CHECK(check.any());
}

TEST_CASE("One dose for all is the same dose in two animals or more") {
  CHECK_FALSE(check_doses(group_of({lamb("1", 30, 6)})).one_dose_ml);
  CHECK_FALSE(check_doses(group_of({lamb("1", 30, 6), lamb("2", 30, 6.5)})).one_dose_ml);
  CHECK(
      check_doses(group_of({lamb("1", 30, 6), lamb("2", {}, 6), lamb("3", 30, {})})).one_dose_ml ==
      6);
}

TEST_CASE("What could not be checked is listed by what it lacks") {
  Animal unlabelled = lamb("4", 30, 6);
  unlabelled.label_ml_per_kg.reset();
  const DoseCheck check = check_doses(group_of(
      {lamb("1", 30, 6), lamb("2", {}, 6), lamb("3", 50, {}), unlabelled, lamb("5", {}, {})}));
  CHECK(check.checked == 1);
  CHECK(check.not_weighed == Indices{1});
  CHECK(check.not_dosed == Indices{2});
  CHECK(check.no_label_rate == Indices{3});
  CHECK(check.heaviest == 2); // weighed, though not dosed: 0.2 x 50 = 10 mL would be needed
  CHECK_THAT(*check.animals[2].needed_ml, support::close_to(10));
  CHECK(check.lowest == 0);
  CHECK(check.highest == 0);

  const DoseCheck none = check_doses(group_of({lamb("1", {}, {})}));
  CHECK_FALSE(none.any());
  CHECK_FALSE(none.lowest);
  CHECK_FALSE(none.heaviest);
}

TEST_CASE("The fall without the animals that got too little") {
  // EPG 600, 450, 750, 150 before and 150, 0, 75 after; the first got 75%. Without it
  // 1 - 75/1200; the fourth, not sampled twice, has no say.
  Group group = support::group("T", {40, 30, 50, 10}, {10, 0, 5, 0}, 15, 15);
  group.animals[3].after.reset();
  for (Animal& animal : group.animals) {
    animal.weight_kg = 40;
    animal.dose_ml = animal.tag == "1" ? 6 : 8;
    animal.label_ml_per_kg = 0.2;
  }
  CHECK_THAT(*check_doses(group).reduction_without_under, support::close_to(1 - 75.0 / 1200));
  group.animals[1].dose_ml = 6; // one animal is left
  CHECK_FALSE(check_doses(group).reduction_without_under);
  group.animals[0].dose_ml = group.animals[1].dose_ml = 8;
  CHECK_FALSE(check_doses(group).reduction_without_under);
}

TEST_CASE("Animals without eggs before treatment tell no fall without the short doses") {
  Group group = support::group("T", {40, 0, 0}, {10, 0, 2}, 1, 1);
  for (Animal& animal : group.animals) {
    animal.weight_kg = 40;
    animal.dose_ml = animal.tag == "1" ? 6 : 8;
    animal.label_ml_per_kg = 0.2;
  }
  CHECK_FALSE(check_doses(group).reduction_without_under);
  group.animals[1].before->eggs = EggsSeen(1); // 1 EPG before, and 2 after
  CHECK_THAT(*check_doses(group).reduction_without_under, support::close_to(-1));
}

TEST_CASE("Of animals that are alike the first is named, and each that got enough is counted") {
  Group group = support::group("T", {40, 30, 20}, {10, 0, 0});
  for (Animal& animal : group.animals) {
    animal.weight_kg = 40;
    animal.dose_ml = 8;
    animal.label_ml_per_kg = 0.2;
  }
  const DoseCheck check = check_doses(group);
  CHECK(check.dosed);
  CHECK(check.heaviest == 0);
  CHECK(check.lowest == 0);
  CHECK(check.highest == 0);
  CHECK(check.dosed_enough == 3);
  group.animals[0].dose_ml = 6;
  CHECK(check_doses(group).dosed_enough == 2);
  group.animals[1].after.reset();
  CHECK(check_doses(group).dosed_enough == 1);
}

TEST_CASE("Doses exactly on a bound are judged as they are written") {
  // 0.2 mL per kg x 33 kg = 6.6 mL, of which 9.9 mL are 150%, and 6.534 mL are 99%; neither
  // quotient is exact in binary.
  const DoseCheck check =
      check_doses(group_of({lamb("1", 33, 9.9), lamb("2", 33, 6.534), lamb("3", 33, 9.89),
                            lamb("4", 33, 6.533), lamb("5", 33, 6.6)}));
  CHECK(check.over == Indices{0});
  CHECK(check.under == Indices{3});
  const DoseCheck other = check_doses(group_of({lamb("1", 33, 7)}), {0.9, 1.05});
  CHECK(other.over == Indices{0}); // 7 / 6.6 = 106%
}

TEST_CASE("Weights, rates and doses that cannot be are refused") {
  CHECK(support::input_error([] { check_doses(group_of({lamb("7", 0, 6)})); }) ==
        "animal \"7\": found a weight in kg of 0; expected a number above 0");
  CHECK(support::input_error([] { check_doses(group_of({lamb("7", 30, -1)})); }) ==
        "animal \"7\": found a dose in mL of -1; expected a number not below 0");
  Animal animal = lamb("7", 30, 6);
  animal.label_ml_per_kg = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(check_doses(group_of({animal})), InputError);
  animal = lamb("7", 30, 6);
  animal.mg_per_ml = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(check_doses(group_of({animal})), InputError);
  CHECK_THROWS_AS(check_doses(group_of({}), {1.1, 1.5}), InputError);
  CHECK_THROWS_AS(check_doses(group_of({}), {0.99, 0.5}), InputError);
  CHECK_THROWS_AS(check_doses(group_of({}), {0, 1.5}), InputError);
  CHECK_NOTHROW(check_doses(group_of({}), {1, 1}));
  CHECK(*check_doses(group_of({lamb("7", 30, 0)})).animals.front().share == 0); // not dosed at all
}
