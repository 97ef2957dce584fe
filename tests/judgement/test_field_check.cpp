#include "eggfall/judgement/field_check.hpp"

#include "support/support.hpp"

#include <chrono>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// All animals sampled and treated on these days of March.
Group on_days(Group group, unsigned before, unsigned treated, unsigned after) {
  using namespace std::chrono;
  for (Animal& animal : group.animals) {
    animal.date_before = year(2031) / March / day(before);
    animal.date_treated = year(2031) / March / day(treated);
    animal.date_after = year(2031) / March / day(after);
  }
  return group;
}

Group three() {
  return support::group("T", {10, 20, 30}, {1, 0, 2});
}

} // namespace

TEST_CASE("Doses and days are checked of every animal, whatever can be compared") {
  Group group = on_days(three(), 1, 2, 11);
  for (Animal& animal : group.animals) {
    animal.weight_kg = 40;
    animal.dose_ml = 4;
    animal.label_ml_per_kg = 0.2;
  }
  UsualDays usual;
  usual.first_day = 10;
  usual.last_day = 14;
  const FieldCheck check = check_field(group, nullptr, usual, nullptr);
  CHECK(check.doses.animals.size() == 3);
  CHECK(check.doses.under.size() == 3); // 4 of 8 mL
  CHECK(check.days.animals.size() == 3);
  CHECK(check.days.first_day == 9);
  CHECK(check.days.early == 3); // day 9, where day 10 is the first of the usual days
  CHECK_FALSE(check.missing_after);
  CHECK_FALSE(check.control);
}

TEST_CASE("Animals that went missing are told where the design pairs them") {
  Group group = three();
  group.animals[2].after.reset();
  const auto paired = compare(Design::paired, group, nullptr);
  REQUIRE(paired);
  const FieldCheck check = check_field(group, &*paired, {}, nullptr);
  REQUIRE(check.missing_after);
  CHECK(check.missing_after->animals == 1);
  CHECK(check.missing_after->tags == std::vector<std::string>{"3"});
  // 60 eggs before; 1 after and the 30 of the missing animal unchanged.
  CHECK_THAT(*check.missing_after->fall_if_unchanged, support::close_to(1 - 31.0 / 60));

  Group control = support::group("C", {}, {20, 20, 20});
  control.role = Role::control;
  const auto unpaired = compare(Design::two_group, group, &control);
  REQUIRE(unpaired);
  CHECK_FALSE(check_field(group, &*unpaired, {}, nullptr).missing_after);
}

TEST_CASE("The control's days lie apart from the group's by the greater of both ends") {
  const DayCheck control = check_days(on_days(three(), 3, 4, 16), {});
  const FieldCheck check = check_field(on_days(three(), 1, 2, 11), nullptr, {}, &control);
  REQUIRE(check.control);
  CHECK(check.control->first_samples == 2);
  CHECK(check.control->second_samples == 5);
  const FieldCheck same = check_field(on_days(three(), 3, 4, 16), nullptr, {}, &control);
  CHECK(same.control->first_samples == 0);
  CHECK(same.control->second_samples == 0);
}

TEST_CASE("Where either side is undated nothing is said of the days between them") {
  const DayCheck control = check_days(on_days(three(), 3, 4, 16), {});
  const FieldCheck undated = check_field(three(), nullptr, {}, &control);
  REQUIRE(undated.control); // there is a control group all the same
  CHECK_FALSE(undated.control->first_samples);
  CHECK_FALSE(undated.control->second_samples);
  const DayCheck undated_control = check_days(three(), {});
  const FieldCheck beside = check_field(on_days(three(), 1, 2, 11), nullptr, {}, &undated_control);
  REQUIRE(beside.control);
  CHECK_FALSE(beside.control->first_samples);
  CHECK_FALSE(beside.control->second_samples);
}
