#include "eggfall/judgement/missing_after.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

/// Five animals at 15 EPG per egg; the last two are missing after treatment.
Group two_missing() {
  Group group = support::group("T", {40, 30, 30, 20, 10}, {4, 0, 6, 0, 0}, 15, 15);
  group.animals[3].after.reset();
  group.animals[4].after.reset();
  return group;
}

Group control_group() {
  Group control = support::group("C", {20, 20}, {10, 30}, 15, 15);
  control.role = Role::control;
  return control;
}

MissingAfter missing(Design design, const Group& group, const Group* control = nullptr) {
  return missing_after(group, *compare(design, group, control)).value();
}

} // namespace

TEST_CASE("The fall if the missing animals' counts had not changed, and had they had no egg") {
  // Compared: 100 eggs before, 10 after, a fall of 90%. Missing: 30 eggs before.
  // Unchanged: 1 - (10 + 30)/(100 + 30) = 9/13; none: 1 - 10/130 = 12/13.
  const MissingAfter found = missing(Design::paired, two_missing());
  CHECK(found.animals == 2);
  CHECK(found.tags == std::vector<std::string>{"4", "5"});
  CHECK_THAT(found.share_of_animals, support::close_to(2.0 / 5));
  CHECK_THAT(found.share_of_eggs, support::close_to(30.0 / 130));
  CHECK_THAT(*found.fall_if_unchanged, support::close_to(9.0 / 13));
  CHECK_THAT(*found.fall_if_none, support::close_to(12.0 / 13));
}

TEST_CASE("The bounds are the falls of a trial in which the missing came back so") {
  // An identity: the paired fall by ratio_data of the table completed either way.
  const Group group = two_missing();
  Group unchanged = group;
  Group none = group;
  for (std::size_t i : {3U, 4U}) {
    unchanged.animals[i].after = unchanged.animals[i].before;
    none.animals[i].after = Count{EggsSeen(0), MultiplicationFactor(15)};
  }
  const auto fall = [](const Group& completed) {
    return 1 - ratio(epg(*compare(Design::paired, completed, nullptr)));
  };
  const MissingAfter found = missing(Design::paired, group);
  CHECK_THAT(*found.fall_if_unchanged, support::close_to(fall(unchanged)));
  CHECK_THAT(*found.fall_if_none, support::close_to(fall(none)));
}

TEST_CASE("Factors and pools weigh in the bounds") {
  // EPG x animals. Compared: 10 eggs x 15 x 5 animals = 750 before, 3 x 5 x 5 = 75 after.
  // Missing, a pool of 3: 10 x 15 x 3 = 450.
  Group group = support::group("T", {10, 10}, {3, 0}, 15, 5);
  group.animals[0].before->animals = 5;
  group.animals[0].after->animals = 5;
  group.animals[1].before->animals = 3;
  group.animals[1].after.reset();
  const MissingAfter found = missing(Design::paired, group);
  CHECK(found.animals == 3);
  CHECK_THAT(found.share_of_animals, support::close_to(3.0 / 8));
  CHECK_THAT(found.share_of_eggs, support::close_to(450.0 / 1200));
  CHECK_THAT(*found.fall_if_unchanged, support::close_to(1 - 525.0 / 1200));
  CHECK_THAT(*found.fall_if_none, support::close_to(1 - 75.0 / 1200));
}

TEST_CASE("The controlled design allows for the control's change") {
  // C1/C2 = 40/40 before, and 40/50 when the second control has 40 after: rho x 0.8.
  Group control = control_group();
  CHECK_THAT(*missing(Design::controlled, two_missing(), &control).fall_if_unchanged,
             support::close_to(9.0 / 13));
  control.animals[1].after = Count{EggsSeen(40), MultiplicationFactor(15)};
  const MissingAfter found = missing(Design::controlled, two_missing(), &control);
  CHECK_THAT(*found.fall_if_unchanged, support::close_to(1 - 0.8 * 4 / 13));
  CHECK_THAT(*found.fall_if_none, support::close_to(1 - 0.8 / 13));
}

TEST_CASE("None missing, a design that does not pair, and nothing to divide by") {
  const Group whole = support::group("T", {9, 8}, {1, 0});
  CHECK_FALSE(missing_after(whole, *compare(Design::paired, whole, nullptr)));
  const Group control = control_group();
  const Group group = two_missing();
  CHECK_FALSE(missing_after(group, *compare(Design::two_group, group, &control)));
  CHECK_FALSE(missing_after(group, *compare(Design::baseline, group, &control)));
  Group empty = support::group("T", {0, 0, 0}, {0, 0, 0});
  empty.animals[2].after.reset();
  const MissingAfter found = missing(Design::paired, empty);
  CHECK(found.animals == 1);
  CHECK_THAT(found.share_of_animals, support::close_to(1.0 / 3));
  CHECK(found.share_of_eggs == 0);
  CHECK_FALSE(found.fall_if_unchanged);
  CHECK_FALSE(found.fall_if_none);
  // However few: 3 eggs at 0.1 EPG each, half of all.
  Group fine = support::group("T", {3, 3}, {0, 0}, 0.1, 0.1);
  fine.animals[1].after.reset();
  const MissingAfter half = missing(Design::paired, fine);
  CHECK_THAT(half.share_of_eggs, support::close_to(0.5));
  CHECK_THAT(*half.fall_if_unchanged, support::close_to(0.5));
  // Sampled after and not before is not missing after.
  Group new_comer = support::group("T", {9, 8}, {1, 0});
  new_comer.animals[1].before.reset();
  CHECK_FALSE(missing_after(new_comer, *compare(Design::paired, new_comer, nullptr)));
}
