#include "plan/field_sheet_words.hpp"

#include "base/date.hpp"
#include "plan/field_sheets_text.hpp"
#include "support/support.hpp"

#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

PlannedGroup treated(const std::string& name, std::vector<DrugClass> classes) {
  PlannedGroup group;
  group.name = name;
  group.classes = std::move(classes);
  return group;
}

PlannedGroup control(const std::string& name) {
  PlannedGroup group;
  group.name = name;
  group.role = Role::control;
  return group;
}

FieldSheetQuestion two_groups() {
  FieldSheetQuestion question;
  question.host = "sheep";
  question.groups = {treated("white", {DrugClass::bz}), control("none")};
  question.groups[0].label = LabelDose::by_volume(0.2);
  question.mob = {{"1", 30, {}}, {"2", 20, {}}, {"3", 31, {}}, {"4", {}, {}}};
  return question;
}

FieldSheets made(const FieldSheetQuestion& question) {
  return field_sheets(question, published_cut_offs());
}

} // namespace

TEST_CASE("A group's treatment is its classes and its drench, as far as they are known") {
  PlannedGroup group = treated("white", {DrugClass::bz});
  CHECK(treatment_text(group) == "BZ");
  group.drench = "white drench";
  CHECK(treatment_text(group) == "BZ, white drench");
  group.classes = {DrugClass::bz, DrugClass::lv};
  CHECK(treatment_text(group) == "BZ+LV, white drench");
  group.classes.clear();
  CHECK(treatment_text(group) == "white drench");
  group.drench.clear();
  CHECK(treatment_text(group).empty());
  CHECK(treatment_text(control("none")) == "untreated control");
}

TEST_CASE("A label's rate is told by volume, and by substance where the label gives it") {
  PlannedGroup group = treated("white", {});
  CHECK(label_text(group).empty());
  group.label = LabelDose::by_volume(0.2);
  CHECK(label_text(group) == "0.2 mL per kg");
  // 5 mg per kg / 25 mg per mL
  group.label = LabelDose::by_substance(5, 25);
  CHECK(label_text(group) == "0.2 mL per kg (5 mg per kg, of 25 mg per mL)");
}

TEST_CASE("The words on the allocation tell how chance came in") {
  FieldSheetQuestion question = two_groups();
  question.seed = 7;
  CHECK(allocation_text(made(question)) == "4 animals in 2 groups, at random (seed 7).");
  question.mob[3].weight_kg = 25;
  CHECK(allocation_text(made(question)) ==
        "4 animals in 2 groups, at random within blocks of 2 animals much alike in weight (seed "
        "7).");
  for (ListedAnimal& animal : question.mob)
    animal.epg = 100;
  CHECK_THAT(allocation_text(made(question)), Catch::Contains("much alike in an earlier count"));
  FieldSheetQuestion one = two_groups();
  one.groups.pop_back();
  CHECK(allocation_text(made(one)) == "4 animals, one group.");
  question.mob.clear();
  question.unlisted = 6;
  CHECK_THAT(allocation_text(made(question)),
             Catch::StartsWith("12 lines in 2 groups, in an order drawn at random (seed 7)") &&
                 Catch::Contains("of every 2 animals that come through the race") &&
                 Catch::Contains("one goes to each group"));
}

TEST_CASE("The days of the second sample have dates once treatment has one") {
  FieldSheetQuestion question = two_groups();
  FieldSheets sheets = made(question);
  // Days as given here, whatever is on record for the class; 2031-05-12 is a Monday.
  sheets.second_samples.front().first_day = 8;
  sheets.second_samples.front().last_day = 10;
  CHECK(second_sample_days(sheets) == "Days 8 to 10 after treatment");
  sheets.question.day0 = parse_date("2031-05-12");
  CHECK(second_sample_days(sheets) == "Days 8 to 10: Tue 20 May 2031 to Thu 22 May 2031");
  sheets.second_samples.front().first_day = 14;
  sheets.second_samples.front().last_day = 14;
  CHECK(second_sample_days(sheets) == "Day 14: Mon 26 May 2031");
  sheets.question.day0.reset();
  CHECK(second_sample_days(sheets) == "Day 14 after treatment");
}

TEST_CASE("Days have their dates behind them, the year left out") {
  const auto day0 = parse_date("2031-05-12"); // a Monday (ISO week date)
  CHECK(days_with_dates({}, 8, 10) == "days 8 to 10");
  CHECK(days_with_dates(day0, 0, 0) == "day 0: Mon 12 May");
  CHECK(days_with_dates(day0, 8, 10) == "days 8 to 10: Tue 20 to Thu 22 May");
  CHECK(days_with_dates(day0, 19, 21) == "days 19 to 21: Sat 31 May to Mon 2 June");
  CHECK(days_with_dates(parse_date("2030-12-20"), 10, 12) ==
        "days 10 to 12: Mon 30 December to Wed 1 January");
}

TEST_CASE("Places in the race are ordinal numbers") {
  for (const auto& [number, word] : {std::pair{1U, "1st"},
                                     {2U, "2nd"},
                                     {3U, "3rd"},
                                     {4U, "4th"},
                                     {10U, "10th"},
                                     {11U, "11th"},
                                     {12U, "12th"},
                                     {13U, "13th"},
                                     {21U, "21st"},
                                     {102U, "102nd"},
                                     {111U, "111th"}})
    CHECK(ordinal(number) == word);
}

TEST_CASE("A group whose own days are others is to be sampled then as well") {
  FieldSheets sheets = made(two_groups());
  SecondSample& sample = sheets.second_samples.front();
  sample.first_day = sample.usual.first_day;
  sample.last_day = sample.usual.last_day;
  const std::string again = "Sample this group then as well";
  CHECK_THAT(second_sample_notes(sheets).back(), !Catch::Contains(again));
  sample.last_day = sample.usual.last_day + 1;
  CHECK_THAT(second_sample_notes(sheets).back(),
             Catch::StartsWith("Group white: ") && Catch::Contains(again));
  CHECK_THAT(second_sample_notes(sheets).back(), Catch::Contains("and the control with it"));
  FieldSheets uncontrolled = sheets;
  uncontrolled.question.groups.pop_back();
  CHECK_THAT(second_sample_notes(uncontrolled).back(), !Catch::Contains("control"));
  // Of several classes without a day in common there are no own days to tell of.
  sample.usual.no_day_in_common = true;
  CHECK(second_sample_notes(sheets).empty());
  // Day 14 serves where classes are compared.
  sample.usual.drug_classes_compared = true;
  sample.first_day = 14;
  sample.last_day = 14;
  REQUIRE(second_sample_notes(sheets).size() == 1);
  CHECK_THAT(second_sample_notes(sheets).front(), Catch::StartsWith("Day 14 serves"));
}

TEST_CASE("An extra visit is that of a group off the common days, and of the control with it") {
  FieldSheetQuestion question = two_groups();
  question.mob.push_back({"5", {}, {}});
  question.mob.push_back({"6", {}, {}});
  question.day0 = parse_date("2031-05-12"); // a Monday (ISO week date)
  question.groups.push_back(treated("clear", {DrugClass::ml}));
  // BZ 8 to 10 days, ML 14 to 17 (from memory): day 14 misses those of white alone.
  const std::vector<ExtraVisit> visits = extra_visits(made(question));
  REQUIRE(visits.size() == 1);
  CHECK(visits[0].group == 0);
  CHECK(visits[0].who == "white and the control");
  CHECK(visits[0].days == "days 8 to 10: Tue 20 to Thu 22 May");
  question.groups.erase(question.groups.begin() + 1);
  CHECK(extra_visits(made(question)).at(0).who == "white");
  question.groups[1].classes = {DrugClass::bz};
  CHECK(extra_visits(made(question)).empty());
}

TEST_CASE("Usual days of a class that has none on record are said to be taken from practice") {
  FieldSheetQuestion question = two_groups();
  question.groups.front().classes = {DrugClass::pyr};
  CHECK_THAT(field_sheets_text(made(question)), Catch::Contains("no days are on record for PYR"));
}

TEST_CASE("A weak design is said to be one before the day") {
  FieldSheetQuestion question = two_groups();
  CHECK_THAT(field_sheets_text(made(question)),
             Catch::Contains("Fewer than 10 animals in white (2) and none (2)"));
  question.host = "horses";
  CHECK_THAT(field_sheets_text(made(question)), !Catch::Contains("WAAVP 1992"));
  question.host = "sheep";
  question.mob.clear();
  question.unlisted = 10;
  CHECK_THAT(field_sheets_text(made(question)), !Catch::Contains("Fewer than 10"));
}

TEST_CASE("Doses that are left open, earlier counts and a control have a caution each") {
  FieldSheetQuestion question = two_groups(); // the fourth animal has no weight
  question.mob.clear();
  question.unlisted = 10;
  question.groups.pop_back();
  question.groups.front().label.reset();
  const auto cautions_on = [&] {
    std::string all;
    for (const std::string& caution : field_sheet_cautions(made(question)))
      all += caution + '\n';
    return all;
  };
  CHECK_THAT(cautions_on(), Catch::StartsWith("Doses are left open in white") &&
                                Catch::Contains("dose that draft for its heaviest") &&
                                Catch::Contains("No untreated control: a fall that the season") &&
                                !Catch::Contains("Look after") &&
                                !Catch::Contains("earlier counts"));
  question = two_groups();
  for (ListedAnimal& animal : question.mob) {
    animal.weight_kg = 30;
    animal.epg = 200;
  }
  question.host = "goats";
  CHECK_THAT(cautions_on(), Catch::Contains("ask the veterinarian what is right for goats"));
  question.host = "sheep";
  CHECK_THAT(cautions_on(), !Catch::Contains("left open") &&
                                Catch::Contains("earlier counts serve to make groups alike") &&
                                Catch::Contains("Look after the control") &&
                                !Catch::Contains("No untreated control"));
  question.groups.front().label.reset();
  CHECK_THAT(cautions_on(), Catch::Contains("the label's rate is not given. Give it") &&
                                !Catch::Contains("dose that draft for its heaviest"));
}

TEST_CASE("A drench that analyse would not judge, or whose class is another's, is told first") {
  FieldSheetQuestion question = two_groups();
  const auto first_caution = [&] { return field_sheet_cautions(made(question)).front(); };
  question.groups.front().classes = {DrugClass::si};
  question.groups.front().drench = "closantel";
  CHECK_THAT(first_caution(), Catch::StartsWith("Group white: closantel is for some worms only.") &&
                                  Catch::Contains("larvae cultured before and after") &&
                                  Catch::EndsWith("gives this group no class."));
  question.groups.front().drench = "praziquantel";
  CHECK_THAT(first_caution(), Catch::Contains("praziquantel is not for the worms of this test"));
  question.groups.front().classes = {DrugClass::bz};
  question.groups.front().drench = "ivermectin";
  CHECK_THAT(first_caution(), Catch::StartsWith("Group white: class BZ is given for "
                                                "\"ivermectin\", which is ML (from memory)"));
  question.groups.front().classes = {DrugClass::ml};
  CHECK_THAT(first_caution(), !Catch::Contains("ivermectin"));
}

TEST_CASE("Usual days that analyse does not judge are left out, and why is told") {
  FieldSheetQuestion question = two_groups();
  question.groups.front().classes.clear();
  CHECK_THAT(second_sample_notes(made(question)).back(),
             Catch::StartsWith("Group white: days 10 to 21, for a drench of which neither class "
                               "nor substance is known (practice): before day 10") &&
                 Catch::Contains("Say the class or the substance"));
  question.groups.front().classes = {DrugClass::bz};
  question.groups.front().drench = "ivermectin";
  CHECK_THAT(second_sample_notes(made(question)).back(),
             Catch::StartsWith("Group white: day 10, as near to the days usual for BZ"));
}
