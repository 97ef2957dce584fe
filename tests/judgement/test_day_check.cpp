#include "eggfall/judgement/day_check.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

std::chrono::year_month_day date(int year, unsigned month, unsigned day) {
  return std::chrono::year(year) / static_cast<int>(month) / static_cast<int>(day);
}

Group treated_with(std::vector<DrugClass> classes, const std::string& drench = {}) {
  Group group = support::group("T", {9, 8, 7}, {1, 0, 0});
  group.classes = std::move(classes);
  group.drench = drench;
  return group;
}

UsualDays usual(const Group& group) {
  return usual_days(published_cut_offs(), group, {"t", {group}});
}

using Window = std::pair<int, int>;

Window window(const Group& group) {
  const UsualDays days = usual(group);
  return {days.first_day, days.last_day};
}

/// Samples and treatment in June 2031.
void set_dates(Animal& animal, unsigned before, unsigned treated, unsigned after) {
  animal.date_before = date(2031, 6, before);
  animal.date_treated = date(2031, 6, treated);
  animal.date_after = date(2031, 6, after);
}

} // namespace

// The windows of single classes are those of src/data/cut_offs.toml, all from memory there:
// LV 3 to 10, BZ 8 to 10, avermectins 14 to 17, moxidectin 17 to 21. Day 14 for classes compared
// together, and 7 to 21 for a class without a window, are practice.
TEST_CASE("The usual days of one class") {
  CHECK(window(treated_with({DrugClass::bz})) == Window{8, 10});
  CHECK(window(treated_with({DrugClass::lv})) == Window{3, 10});
  CHECK(window(treated_with({DrugClass::ml})) == Window{14, 17});
  CHECK(window(treated_with({DrugClass::ml}, "Moxidectin oral")) == Window{17, 21});
  CHECK(usual(treated_with({DrugClass::bz})).citation.provenance == Provenance::memory);
  for (const Group& unknown : {treated_with({}), treated_with({DrugClass::si})}) {
    CHECK(window(unknown) == Window{7, 21});
    CHECK(usual(unknown).classes.empty());
    CHECK(usual(unknown).citation.provenance == Provenance::practice);
  }
}

TEST_CASE("The usual days of a combination are those common to its classes, or day 14") {
  const UsualDays met = usual(treated_with({DrugClass::bz, DrugClass::lv}));
  CHECK(met.first_day == 8); // 8 to 10 and 3 to 10
  CHECK(met.last_day == 10);
  CHECK_FALSE(met.no_day_in_common);
  CHECK(to_string(met.classes) == "BZ+LV");
  const UsualDays apart = usual(treated_with({DrugClass::bz, DrugClass::ml}));
  CHECK(apart.no_day_in_common); // 8 to 10 and 14 to 17
  CHECK(apart.first_day == 14);
  CHECK(apart.last_day == 14);
  CHECK(to_string(apart.classes) == "BZ+ML");
  CHECK(usual(treated_with({DrugClass::bz, DrugClass::lv, DrugClass::ml})).no_day_in_common);
  // LV 3 to 10 beside a class without a window, 7 to 21.
  const Group part_known = treated_with({DrugClass::lv, DrugClass::si});
  CHECK(window(part_known) == Window{7, 10});
  CHECK(usual(part_known).citation.provenance == Provenance::memory);
}

TEST_CASE("A combination's days rest on all its windows, and are as sure as the weakest") {
  CutOffs cut_offs;
  const auto add = [&](DrugClass drug_class, int first, int last, const Citation& citation) {
    cut_offs.windows.push_back({{}, drug_class, "", first, last, citation});
  };
  add(DrugClass::bz, 8, 10, {"A", Provenance::published});
  add(DrugClass::lv, 3, 12, {"B", Provenance::memory});
  add(DrugClass::ml, 10, 14, {"C", Provenance::practice});
  add(DrugClass::ad, 1, 30, {"D", Provenance::published});
  const auto days = [&](std::vector<DrugClass> classes) {
    const Group group = treated_with(std::move(classes));
    return usual_days(cut_offs, group, {"t", {group}});
  };
  const auto rests_on = [&](std::vector<DrugClass> classes) {
    return days(std::move(classes)).citation;
  };
  CHECK(rests_on({DrugClass::bz, DrugClass::ad}) == Citation{"A; D", Provenance::published});
  CHECK(rests_on({DrugClass::bz, DrugClass::lv}) == Citation{"A; B", Provenance::memory});
  CHECK(rests_on({DrugClass::lv, DrugClass::bz}) == Citation{"B; A", Provenance::memory});
  CHECK(rests_on({DrugClass::bz, DrugClass::ml}) == Citation{"A; C", Provenance::practice});
  CHECK(rests_on({DrugClass::ml, DrugClass::lv}) == Citation{"C; B", Provenance::memory});
  CHECK(rests_on({DrugClass::lv, DrugClass::ml}) == Citation{"B; C", Provenance::memory});
  CHECK(rests_on({DrugClass::bz, DrugClass::si}) == Citation{"A; practice", Provenance::practice});
  // 8 to 10 and 10 to 14 have day 10 in common.
  const UsualDays one_day = days({DrugClass::bz, DrugClass::ml});
  CHECK(one_day.first_day == 10);
  CHECK(one_day.last_day == 10);
  CHECK_FALSE(one_day.no_day_in_common);
  // 1 to 30 beside a class without a window, 7 to 21.
  const UsualDays practice = days({DrugClass::ad, DrugClass::si});
  CHECK(practice.first_day == 7);
  CHECK(practice.last_day == 21);
}

TEST_CASE("The first and the last of the usual days are usual") {
  Group group = treated_with({DrugClass::bz}); // 8 to 10
  const auto sampled_on = [&](int day) {
    Group one = group;
    one.animals.resize(1);
    set_dates(one.animals[0], 1, 2, static_cast<unsigned>(2 + day));
    const DayCheck check = check_days(one, usual(group));
    return std::pair{check.early, check.late};
  };
  CHECK(sampled_on(7) == std::pair<std::size_t, std::size_t>{1, 0});
  CHECK(sampled_on(8) == std::pair<std::size_t, std::size_t>{0, 0});
  CHECK(sampled_on(10) == std::pair<std::size_t, std::size_t>{0, 0});
  CHECK(sampled_on(11) == std::pair<std::size_t, std::size_t>{0, 1});
}

TEST_CASE("Day 14 serves too where classes are compared in one trial") {
  const Group bz = treated_with({DrugClass::bz});
  Group lv = treated_with({DrugClass::lv});
  lv.name = "U";
  Group control = support::group("C", {9}, {9});
  control.role = Role::control;
  const CutOffs cut_offs = published_cut_offs();
  CHECK(usual_days(cut_offs, bz, {"t", {bz, lv}}).drug_classes_compared);
  CHECK_FALSE(usual_days(cut_offs, bz, {"t", {bz, control}}).drug_classes_compared);

  Group group = bz;
  set_dates(group.animals[0], 2, 2, 11); // day 9: in the window
  set_dates(group.animals[1], 2, 2, 16); // day 14
  set_dates(group.animals[2], 2, 2, 17); // day 15
  const DayCheck alone = check_days(group, usual(group));
  CHECK(alone.late == 2);
  CHECK(alone.early == 0);
  CHECK(check_days(group, usual_days(cut_offs, group, {"t", {group, lv}})).late == 1);
  set_dates(group.animals[0], 2, 2, 18);
  CHECK(check_days(group, usual_days(cut_offs, group, {"t", {group, lv}})).late == 2);
}

TEST_CASE("Days between dates") {
  Group group = treated_with({DrugClass::bz});
  // By R 4.2.2, as.Date("2032-03-10") - as.Date("2032-02-27") is 12 (2032 is a leap year), and
  // as.Date("2032-01-04") - as.Date("2031-12-22") is 13.
  group.animals[0].date_before = date(2031, 12, 22);
  group.animals[0].date_treated = date(2032, 1, 4);
  group.animals[0].date_after = date(2032, 1, 8);
  group.animals[1].date_treated = date(2032, 2, 27);
  group.animals[1].date_after = date(2032, 3, 10);
  const DayCheck check = check_days(group, usual(group));
  CHECK(check.animals[0].before == 13);
  CHECK(check.animals[0].after == 4);
  CHECK_FALSE(check.animals[1].before);
  CHECK(check.animals[1].after == 12);
  CHECK_FALSE(check.animals[2].after);
  CHECK_FALSE(check.animals[2].before);
  CHECK(check.undated == 1);
  CHECK(check.first_day == 4);
  CHECK(check.last_day == 12);
  CHECK(check.longest_before == 13);
  CHECK(check.early == 1); // BZ: 8 to 10
  CHECK(check.late == 1);
  CHECK(check.treatments->first == date(2032, 1, 4));
  CHECK(check.treatments->last == date(2032, 2, 27));
  CHECK(length_days(*check.second_samples) == 62); // 8 January to 10 March: 23 + 29 + 10
}

TEST_CASE("Where one of the two dates is missing there is no day") {
  Group group = treated_with({DrugClass::bz});
  group.animals[0].date_treated = date(2032, 1, 4);
  group.animals[1].date_after = date(2032, 1, 13);
  const DayCheck check = check_days(group, usual(group));
  CHECK_FALSE(check.animals[0].after);
  CHECK_FALSE(check.animals[1].after);
  CHECK(check.undated == group.animals.size());
  CHECK_FALSE(check.first_day);
}

TEST_CASE("A date without a sample is no day of sampling") {
  Group group = treated_with({DrugClass::bz});
  for (Animal& animal : group.animals)
    set_dates(animal, 1, 2, 11);
  group.animals[2].after.reset();
  set_dates(group.animals[2], 1, 2, 30);
  DayCheck check = check_days(group, usual(group));
  CHECK(check.last_day == 9);
  CHECK(check.late == 0);
  CHECK(check.undated == 0);
  // Eggs told apart on the slide are a sample.
  group.animals[2].kinds["nematodirus"].after = Count{EggsSeen(3), MultiplicationFactor(15)};
  check = check_days(group, usual(group));
  CHECK(check.last_day == 28);
  CHECK(check.late == 1);
}

TEST_CASE("The longest time from the first sample to treatment is the one told") {
  Group group = treated_with({DrugClass::bz});
  set_dates(group.animals[0], 1, 9, 18);
  set_dates(group.animals[1], 7, 9, 18);
  set_dates(group.animals[2], 9, 9, 18);
  CHECK(check_days(group, usual(group)).longest_before == 8);
  CHECK(check_days(group, usual(group)).animals[2].before == 0);
}

TEST_CASE("Ranges of dates apart, and the group treated first") {
  const DateRange a{date(2031, 6, 11), date(2031, 6, 12)};
  CHECK(days_apart(a, a) == 0);
  CHECK(days_apart(a, {date(2031, 6, 11), date(2031, 6, 16)}) == 4);
  CHECK(days_apart({date(2031, 6, 1), date(2031, 6, 12)}, a) == 10);

  Group late = treated_with({DrugClass::bz});
  Group early = treated_with({DrugClass::lv});
  early.name = "U";
  Group control = early;
  control.role = Role::control;
  control.name = "C";
  CHECK_FALSE(first_treated({"t", {late, early}}));
  set_dates(late.animals[1], 2, 9, 18);
  set_dates(early.animals[2], 2, 3, 12);
  set_dates(control.animals[0], 1, 1, 12); // an untreated animal's date of treatment is none
  const auto first = first_treated({"t", {late, control, early}});
  CHECK(first->group == "U");
  CHECK(first->date == date(2031, 6, 3));
  // The first of equals, in a group as between groups.
  set_dates(late.animals[0], 2, 3, 18);
  CHECK(first_treated({"t", {late, control, early}})->group == "T");
}

TEST_CASE(
    "A test of a group with visits is judged on the one of its usual days nearest to day 14") {
  const auto day = [](std::vector<DrugClass> classes, const std::vector<int>& days) {
    Group group = treated_with(std::move(classes));
    for (Animal& animal : group.animals)
      animal.after.reset();
    for (const int each : days)
      group.animals[1].visits.push_back({each, *group.animals[1].before, {}});
    return test_day(group, usual(group));
  };
  CHECK(day({DrugClass::ml}, {7, 14, 28}) == 14);
  CHECK(day({DrugClass::ml}, {15, 16, 28}) == 15); // 14 to 17
  CHECK(day({DrugClass::lv}, {3, 7, 14}) == 7);    // 3 to 10, of which 7 is nearest to 14
  CHECK(day({}, {8, 13, 15, 20}) == 15);           // of two alike the later
  CHECK(day({}, {28, 42}) == 28);                  // none: the nearest to day 7 to 21
  CHECK(day({}, {3, 42}) == 3);
  CHECK(day({}, {3, 25}) == 25); // both four days off: the later
  CHECK_FALSE(day({DrugClass::ml}, {}));
}

TEST_CASE("Where classes are compared day 14 serves for a visit too") {
  Group lv = treated_with({DrugClass::lv});
  Group ml = treated_with({DrugClass::ml});
  for (Animal& animal : lv.animals)
    animal.after.reset();
  lv.animals[0].visits = {{2, *lv.animals[0].before, {}}, {14, *lv.animals[0].before, {}}};
  CHECK(test_day(lv, usual_days(published_cut_offs(), lv, {"t", {lv}})) == 2);
  CHECK(test_day(lv, usual_days(published_cut_offs(), lv, {"t", {lv, ml}})) == 14);
}

TEST_CASE("A sample of the test's own is no visit's, and a planned day stands in for dates") {
  Group group = treated_with({DrugClass::ml});
  group.animals[0].visits = {{28, *group.animals[0].before, {}}};
  CHECK_FALSE(test_day(group, usual(group)));
  CHECK(check_days(group, usual(group)).undated == 3);
  group.day_after = 14;
  const DayCheck check = check_days(group, usual(group));
  CHECK(check.undated == 0);
  CHECK(check.first_day == 14);
  CHECK(check.last_day == 14);
  CHECK(check.late == 0);
  // What the table tells of one animal is its own.
  group.animals[0].days_after = 3;
  CHECK(check_days(group, usual(group)).animals[0].after == 3);
  CHECK(check_days(group, usual(group)).animals[1].after == 14);
  CHECK(check_days(group, usual(group)).early == 1);
  group.animals[0].date_treated = std::chrono::year(2031) / 5 / 1;
  group.animals[0].date_after = std::chrono::year(2031) / 5 / 16;
  CHECK(check_days(group, usual(group)).animals[0].after == 15); // dates tell it
}
