#include "plan/blank_counts.hpp"

#include "eggfall/trial/read_trials.hpp"
#include "support/filled_table.hpp"
#include "support/support.hpp"

using namespace eggfall;

namespace {

FieldSheetQuestion question() {
  FieldSheetQuestion asked;
  asked.host = "sheep";
  asked.groups.resize(2);
  asked.groups[0].name = "white, old";
  asked.groups[0].drench = "=1+1";
  asked.groups[0].classes = {DrugClass::bz, DrugClass::lv};
  asked.groups[0].label = LabelDose::by_substance(5, 25);
  asked.groups[1].name = "none";
  asked.groups[1].role = Role::control;
  asked.mob = {{"a \"b\"", 30.5, 50}, {"-12", 31, 0}, {"@x", {}, 100}, {"4", 28, 400}};
  return asked;
}

FieldSheets line_ups_on_paper(const FieldSheetQuestion& asked) {
  return field_sheets(asked, published_cut_offs());
}

using Columns = std::vector<std::string>;

} // namespace

TEST_CASE("Eggs have a column a chamber, or one in all with one for each kind") {
  FieldSheetQuestion asked = question();
  CHECK(egg_columns(asked, "before") == Columns{"eggs_before"});
  asked.bench = FieldSheetBench{{3, {}, 45, 2, 0.5}, 1};
  CHECK(egg_columns(asked, "before") == Columns{"eggs_before_1", "eggs_before_2"});
  CHECK(egg_columns(asked, "after") == Columns{"eggs_after"});
  asked.bench->chambers_after = 21; // more than a counts table has
  CHECK(egg_columns(asked, "after") == Columns{"eggs_after"});
  asked.told_apart = {"nematodirus"};
  CHECK(egg_columns(asked, "before") == Columns{"eggs_before", "eggs_before:nematodirus"});
}

TEST_CASE("The blank table is one that analyse reads, and says of the animals what is known") {
  for (const bool with_kinds : {false, true}) {
    FieldSheetQuestion asked = question();
    asked.bench = FieldSheetBench{{3, {}, 45, 2, 0.5}, 6};
    if (with_kinds)
      asked.told_apart = {"nematodirus"};
    const FieldSheets sheets = line_ups_on_paper(asked);
    const TrialTable table = read_trials(blank_counts(sheets), "t.csv", {});
    CHECK(table.notes.empty());
    REQUIRE(table.trials.size() == 1);
    std::size_t animals = 0;
    for (const Group& group : table.trials[0].groups)
      for (const Animal& animal : group.animals) {
        INFO(animal.tag);
        ++animals;
        CHECK_FALSE(animal.before);
        CHECK_FALSE(animal.dose_ml);
        CHECK_FALSE(animal.date_treated);
        CHECK(animal.label_ml_per_kg.has_value() == (group.role == Role::treated));
        if (animal.label_ml_per_kg)
          CHECK_THAT(*animal.label_ml_per_kg, support::close_to(0.2));
        const bool listed = animal.tag == "a \"b\"" || animal.tag == "-12" || animal.tag == "'@x" ||
                            animal.tag == "4";
        CHECK(listed);
        CHECK(animal.weight_kg.has_value() == (animal.tag != "'@x"));
        CHECK(group.host == "sheep");
        if (group.role == Role::treated) {
          CHECK(group.name == "white, old");
          CHECK(group.drench == "'=1+1"); // a spreadsheet would have carried it out
          CHECK(to_string(group.classes) == "BZ+LV");
        }
      }
    CHECK(animals == 4);
  }
}

TEST_CASE("Factors in the blank table are those of what is written in a column") {
  FieldSheetQuestion asked = question();
  asked.groups[0].name = "white";
  asked.groups[0].drench.clear();
  asked.mob = {{"1", 30, {}}, {"2", 30, {}}, {"3", 30, {}}, {"4", 30, {}}};
  const auto epg_of_sevens = [&] {
    const std::string text = support::filled(
        blank_counts(line_ups_on_paper(asked)), [](const std::string& head, std::size_t) {
          return head.starts_with("eggs_") ? std::optional<std::string>("7") : std::nullopt;
        });
    const TrialTable table = read_trials(text, "t.csv", {});
    const Animal& animal = table.trials[0].groups[0].animals[0];
    return std::pair{animal.before->epg(), animal.after->epg()};
  };
  // 3 g in 45 mL: an egg in one chamber of 0.5 mL stands for 30 EPG, in two for 15, in six for 5.
  asked.bench = FieldSheetBench{{3, {}, 45, 2, 0.5}, 6};
  const auto by_chamber = epg_of_sevens();
  CHECK_THAT(by_chamber.first, support::close_to(7 * 2 * 15));
  CHECK_THAT(by_chamber.second, support::close_to(7 * 6 * 5));
  asked.told_apart = {"nematodirus"};
  const auto in_all = epg_of_sevens();
  CHECK_THAT(in_all.first, support::close_to(7 * 15));
  CHECK_THAT(in_all.second, support::close_to(7 * 5));
}
