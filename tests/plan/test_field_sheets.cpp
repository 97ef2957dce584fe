#include "plan/field_sheets.hpp"

#include "base/date.hpp"
#include "plan/field_sheets_text.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <cstdint>
#include <set>
#include <string>
#include <utility>

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

std::string error(const FieldSheetQuestion& question) {
  return support::input_error([&] { made(question); });
}

} // namespace

TEST_CASE("Doses are the label's for each treated animal that was weighed") {
  const FieldSheets sheets = made(two_groups());
  for (const PlannedAnimal& each : sheets.animals) {
    INFO(each.animal.tag);
    if (each.group == 1 || !each.animal.weight_kg)
      CHECK_FALSE(each.dose_ml);
    else
      CHECK_THAT(*each.dose_ml, support::close_to(0.2 * *each.animal.weight_kg));
  }
}

TEST_CASE("The balance of the groups is that of their animals") {
  FieldSheetQuestion question = two_groups();
  question.mob = {{"1", 30, 100}, {"2", 20, 300}, {"3", 34, 200}, {"4", 26, 800}};
  const FieldSheets sheets = made(question);
  CHECK(sheets.blocked == BlockedBy::count);
  double kg = 0;
  double epg = 0;
  double ml = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    const GroupBalance& balance = sheets.balance[i];
    CHECK(balance.animals == 2);
    CHECK(balance.weighed == 2);
    CHECK(balance.counted == 2);
    CHECK_THAT(*balance.mean_kg, support::close_to((*balance.least_kg + *balance.most_kg) / 2));
    kg += 2 * *balance.mean_kg;
    epg += 2 * *balance.mean_epg;
    ml += balance.doses_ml;
  }
  CHECK_THAT(kg, support::close_to(110));
  CHECK_THAT(epg, support::close_to(1400));
  CHECK_THAT(ml, support::close_to(0.2 * 2 * *sheets.balance[0].mean_kg));
  // Blocks by count: 100 with 200, 300 with 800.
  const auto group_of = [&](std::size_t i) { return sheets.animals[i].group; };
  CHECK(group_of(0) != group_of(2));
  CHECK(group_of(1) != group_of(3));
}

TEST_CASE("Blocks are by what every animal has, or as asked") {
  FieldSheetQuestion question = two_groups();
  CHECK(made(question).blocked == BlockedBy::nothing);
  question.blocks = BlockedBy::weight;
  CHECK(error(question) == "blocks by weight: the animal \"4\" has none; expected one for each");
  question.mob[3].weight_kg = 25;
  CHECK(made(question).blocked == BlockedBy::weight);
  question.blocks.reset();
  CHECK(made(question).blocked == BlockedBy::weight);
  question.blocks = BlockedBy::nothing;
  CHECK(made(question).blocked == BlockedBy::nothing);
}

// The windows are those of src/data/cut_offs.toml, from memory: BZ 8 to 10 days, ML 14 to 17.
TEST_CASE("The second sample is due on a day common to all groups, or on the usual one") {
  FieldSheetQuestion question = two_groups();
  const FieldSheets alone = made(question);
  REQUIRE(alone.second_samples.size() == 1);
  CHECK(alone.second_samples[0].first_day == 8);
  CHECK(alone.second_samples[0].last_day == 10);
  CHECK_FALSE(alone.second_samples[0].off_its_days());

  question.groups[1] = treated("clear", {DrugClass::ml});
  question.day0 = parse_date("2031-05-12");
  const FieldSheets both = made(question);
  REQUIRE(both.second_samples.size() == 2);
  for (const SecondSample& sample : both.second_samples) {
    CHECK(sample.first_day == common_day());
    CHECK(sample.last_day == common_day());
  }
  CHECK(both.second_samples[0].off_its_days());
  CHECK_FALSE(both.second_samples[1].off_its_days());
  // 12 May 2031 is a Monday (ISO week date), and so is the day two weeks later.
  const std::string text = field_sheets_text(both);
  CHECK_THAT(text, Catch::Contains("Second sample: Day 14: Mon 26 May 2031."));
  CHECK_THAT(text, Catch::Contains("from memory"));
  CHECK_THAT(text, Catch::Contains("Sample this group then as well"));
}

TEST_CASE("Without a list there are numbered lines, each block of them one to every group") {
  FieldSheetQuestion question = two_groups();
  question.mob.clear();
  question.unlisted = 3;
  const FieldSheets sheets = made(question);
  REQUIRE(sheets.animals.size() == 6);
  CHECK(sheets.animals[3].animal.tag == "4");
  for (std::size_t block = 0; block < 6; block += 2)
    CHECK(sheets.animals[block].group != sheets.animals[block + 1].group);
  // The order hangs on the seed: of 2^3 orders, twenty seeds do not all give the same.
  const auto order_by = [&](std::uint64_t seed) {
    question.seed = seed;
    std::string order;
    for (const PlannedAnimal& each : made(question).animals)
      order += each.group == 0 ? 'w' : 'n';
    return order;
  };
  std::set<std::string> orders;
  for (std::uint64_t seed = 1; seed <= 20; ++seed)
    orders.insert(order_by(seed));
  CHECK(orders.size() > 1);
  CHECK(order_by(3) == order_by(3));
  const std::string text = field_sheets_text(sheets);
  CHECK_THAT(text, Catch::Contains("Doses are left open in white"));
  CHECK_THAT(text, Catch::Contains("in an order drawn at random"));
  CHECK_THAT(text, Catch::Contains("Wear gloves") && Catch::Contains("withholding"));
  question.groups.resize(1);
  CHECK_THAT(field_sheets_text(made(question)), Catch::Contains("3 lines in one group"));
}

TEST_CASE("Groups and animals that cannot be are refused") {
  FieldSheetQuestion question = two_groups();
  question.groups[1].name = "white";
  CHECK(error(question) == "the group \"white\" twice; expected each once");
  question.groups[1].name = "";
  CHECK(error(question) == "a group without a name; expected one");
  question = two_groups();
  question.groups = {control("a"), control("b"), treated("c", {})};
  CHECK(error(question) == "two control groups; expected one at most");
  question.groups = {control("a")};
  CHECK(error(question) == "no treated group; expected one or more");
  question = two_groups();
  question.mob.pop_back();
  CHECK(error(question) == "3 animals for 2 groups; expected 4 or more, 2 a group");
  question.unlisted = 5;
  CHECK(error(question) == "both a list of animals and a number of them; expected one of the two");
  question = two_groups();
  question.bench = FieldSheetBench{{3, {}, 45, 2, 0.5}, 200};
  CHECK_THAT(error(question), Catch::Contains("100 mL counted out of a suspension of 45 mL"));
  question = two_groups();
  question.mob.clear();
  question.unlisted = 10'001;
  CHECK(error(question) == "20002 animals; expected at most 20000 on sheets");
}

TEST_CASE("A dose rate that no drench label has is refused before anybody gives it") {
  FieldSheetQuestion question = two_groups();
  question.groups[0].label = LabelDose::by_volume(1);
  CHECK(made(question).animals.size() == 4);
  question.groups[0].label = LabelDose::by_volume(5); // mg for each kg, taken for mL
  CHECK_THAT(error(question),
             Catch::Contains("found a dose rate of 5 mL for each kg, 200 mL for an "
                             "animal of 40 kg; expected at most 1 mL"));
  question.groups[0].label = LabelDose::by_substance(5, 2.5); // a decimal point lost
  CHECK_THAT(error(question), Catch::Contains("2 mL for each kg"));
}

TEST_CASE("A weight with its point in the wrong place is refused, lambs beside ewes are not") {
  FieldSheetQuestion question = two_groups();
  question.mob = {{"1", 12, {}}, {"2", 60, {}}, {"3", 70, {}}, {"4", 14, {}}};
  CHECK(made(question).animals.size() == 4);
  question.mob = {{"1", 30, {}}, {"2", 2.94, {}}, {"3", 31, {}}, {"4", 28, {}}};
  CHECK_THAT(
      error(question),
      Catch::Contains("the animal \"2\": found a weight of 2.94 kg in a list whose middle is"));
  question.mob[1].weight_kg = 294;
  CHECK_THAT(error(question), Catch::Contains("found a weight of 294 kg"));
  question.mob[1].weight_kg.reset();
  CHECK(made(question).animals.size() == 4);
}

TEST_CASE("Steps of the gun that round a dose up to an overdose are refused with finer ones") {
  FieldSheetQuestion question = two_groups();
  question.groups.pop_back();
  question.mob = {{"1", 30, {}}, {"2", 26, {}}};
  question.dose_step_ml = 5;
  // 0.2 x 26 = 5.2 becomes 10; half of 5.2 is 2.6, and steps of 2 add less.
  const std::string message = error(question);
  CHECK_THAT(message, Catch::StartsWith("the animal \"2\": found a dose of 10 mL, rounded up to "
                                        "steps of 5 mL, where 26 kg need 5.2 mL") &&
                          Catch::Contains("finer steps of the drench gun, 2 mL or less"));
  question.dose_step_ml = 2;
  CHECK(made(question).animals.size() == 2);
  question.groups[0].label = LabelDose::by_volume(0.0001);
  question.dose_step_ml = 0.01;
  CHECK_THAT(error(question), Catch::Contains("look at the label's rate"));
  // Exactly 1.5 times is an overdose to analyse too (field practice).
  CHECK(steps_overdose(LabelDose::by_volume(0.2), 10, 3));
  CHECK_FALSE(steps_overdose(LabelDose::by_volume(0.2), 10.1, 3));
}

TEST_CASE("Weights that agree with each other but not with the host are refused") {
  FieldSheetQuestion question = two_groups();
  question.mob = {{"1", 660, {}}, {"2", 680, {}}, {"3", 640, {}}, {"4", 680, {}}};
  CHECK_THAT(error(question), Catch::StartsWith("the animal \"1\": found a weight of 660 kg where "
                                                "the host is sheep; expected 5 to 180 kg"));
  question.host = "cattle";
  CHECK(made(question).animals.size() == 4);
  question.host.clear();
  CHECK(made(question).animals.size() == 4);
  for (ListedAnimal& animal : question.mob)
    animal.weight_kg = 3;
  CHECK(made(question).animals.size() == 4);
  question.host = "cattle";
  CHECK_THAT(error(question), Catch::Contains("expected 50 to 1400 kg"));
}

// Before day 10 no drench earns a good class that may be a macrocyclic lactone (docs/bars.md).
TEST_CASE("The second sample is due on days only that a good class can be given on") {
  FieldSheetQuestion question = two_groups();
  question.groups[0].classes.clear();
  const auto days = [&] {
    const SecondSample sample = made(question).second_samples.front();
    return std::pair{sample.first_day, sample.last_day};
  };
  CHECK(days() == std::pair{10, 21});
  CHECK(made(question).second_samples.front().some_usual_left_out);
  question.groups[0].classes = {DrugClass::bz};
  CHECK(days() == std::pair{8, 10});
  question.groups[0].drench = "ivermectin";
  CHECK(days() == std::pair{10, 10});
  // The class is taken from the name, as from a table.
  question.groups[0].classes.clear();
  CHECK(days() == std::pair{14, 17});
  CHECK_FALSE(made(question).second_samples.front().some_usual_left_out);
}
