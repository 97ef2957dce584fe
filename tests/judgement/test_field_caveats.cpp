#include "judgement/field_caveats.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "report/field_table.hpp"
#include "support/caveat_lines.hpp"
#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace eggfall;

namespace {

TrialAnalysis analysed(std::vector<Group> groups, const AnalysisSettings& settings = {}) {
  return analyse({"t", std::move(groups)}, published_cut_offs(), settings);
}

const Caveat* find(const GroupAnalysis& group, CaveatCode code) {
  const auto found = std::ranges::find(group.caveats, code, &Caveat::code);
  return found == group.caveats.end() ? nullptr : &*found;
}

/// The text of the first group's caveat; empty if there is none of this code.
std::string text(const TrialAnalysis& trial, CaveatCode code, std::size_t group = 0) {
  const Caveat* caveat = find(trial.groups.at(group), code);
  return caveat == nullptr ? std::string() : caveat->text;
}

/// Four lambs; the drench does well.
Group four(const std::string& name = "T") {
  return support::group(name, {40, 30, 50, 60}, {0, 0, 1, 0}, 15, 15);
}

void dose(Group& group, std::size_t animal, std::optional<double> weight_kg,
          std::optional<double> dose_ml, std::optional<double> label_ml_per_kg = 0.2) {
  group.animals[animal].weight_kg = weight_kg;
  group.animals[animal].dose_ml = dose_ml;
  group.animals[animal].label_ml_per_kg = label_ml_per_kg;
}

std::chrono::year_month_day june(unsigned day) {
  return std::chrono::year(2031) / std::chrono::June / std::chrono::day(day);
}

void set_dates(Group& group, unsigned before, unsigned treated, unsigned after) {
  for (Animal& animal : group.animals) {
    animal.date_before = june(before);
    animal.date_treated = june(treated);
    animal.date_after = june(after);
  }
}

Group control() {
  Group group = support::group("C", {40, 30, 50, 60}, {40, 30, 50, 60}, 15, 15);
  group.role = Role::control;
  return group;
}

} // namespace

TEST_CASE("Underdosed by one setting of the gun: the heaviest is named") {
  Group group = four();
  // Without 3 and 4: 1 - 0/70. 7 mL; 0.2 mL per kg x 23, 34, 42, 45 kg = 4.6, 6.8, 8.4, 9 mL: 152,
  // 103, 83 and 78%.
  for (const auto& [animal, kg] : {std::pair{0U, 23}, {1U, 34}, {2U, 42}, {3U, 45}})
    dose(group, animal, kg, 7);
  const TrialAnalysis trial = analysed({group});
  CHECK(text(trial, CaveatCode::underdosed) ==
        "2 animals got less than the label's dose for the weight: 3 (83%) and 4 (78%). All got 7 "
        "mL, but the heaviest weighed, 4 (45 kg), needs 9 mL: a setting of the gun must be right "
        "for the heaviest it is used on, so draft animals by weight where they differ. A poor fall "
        "may be the dose's fault; without them the group "
        "shows a fall of 100.0%.");
  CHECK(
      text(trial, CaveatCode::overdosed) ==
      "1 animal got 1.5 times the label's dose for the weight or more: 1 (152%). That can harm "
      "the animal, the label's withholding period does not allow for it, and a higher dose can "
      "hide early resistance. Ask the veterinarian how long their meat and milk must be withheld. "
      "Where weights differ so much, dose the light and the heavy animals as two lots.");
  CHECK(find(trial.groups[0], CaveatCode::underdosed)->severity == Severity::warning);
  CHECK(find(trial.groups[0], CaveatCode::overdosed)->severity == Severity::warning);
  CHECK(text(trial, CaveatCode::weights_missing).empty());

  SECTION("doses set one by one") {
    dose(group, 3, 45, 6); // 67%
    dose(group, 0, 23, 8); // 174%
    const TrialAnalysis single = analysed({group});
    CHECK(text(single, CaveatCode::underdosed) ==
          "2 animals got less than the label's dose for the weight: 3 (83%) and 4 (67%). A poor "
          "fall may be the dose's fault; without them the group shows a fall of 100.0%.");
    CHECK(text(single, CaveatCode::overdosed)
              .ends_with("how long their meat and milk must be withheld."));
  }
  SECTION("one dose that covers the heaviest weighed says nothing of those not weighed") {
    for (const auto& [animal, kg] : {std::pair{0U, 30}, {1U, 34}, {2U, 35}})
      dose(group, animal, kg, 7);
    dose(group, 3, {}, 7);
    const TrialAnalysis covered = analysed({group});
    CHECK(text(covered, CaveatCode::underdosed).empty());
    CHECK(text(covered, CaveatCode::overdosed).empty());
    CHECK(text(covered, CaveatCode::weights_missing) ==
          "1 animal was dosed but not weighed (4): the dose check covers only those weighed, and a "
          "heavier one may be among the others.");
  }
}

TEST_CASE("What kept doses from being checked") {
  Group group = four();
  for (std::size_t i = 0; i < 4; ++i)
    dose(group, i, {}, 7);
  CHECK(text(analysed({group}), CaveatCode::weights_missing) ==
        "Doses were read, but no weights (column weight_kg), so doses were not checked.");
  for (std::size_t i = 0; i < 4; ++i)
    dose(group, i, 35, {});
  CHECK(text(analysed({group}), CaveatCode::doses_missing) ==
        "Weights were read, but no doses (column dose_ml), so doses were not checked.");
  dose(group, 0, 35, 7);
  dose(group, 1, 35, 7);
  CHECK(text(analysed({group}), CaveatCode::doses_missing) ==
        "No dose was read for 2 weighed animals (3 and 4): make sure that none of the group was "
        "left undosed.");
  dose(group, 2, 35, 7, std::nullopt);
  CHECK(text(analysed({group}), CaveatCode::label_rate_missing) ==
        "Weights and doses were read, but not the label's dose rate (column label_ml_per_kg, or "
        "label_mg_per_kg and mg_per_ml), so the dose of 1 animal was not checked.");
  dose(group, 0, 35, 7, std::nullopt);
  dose(group, 1, 35, 7, std::nullopt);
  CHECK(text(analysed({group}), CaveatCode::label_rate_missing)
            .ends_with("so doses were not checked."));
}

TEST_CASE("The second sample on the wrong day, by class") {
  Group group = four();
  group.classes = {DrugClass::bz, DrugClass::lv};
  set_dates(group, 2, 2, 16);
  CHECK(text(analysed({group}), CaveatCode::sampled_late) ==
        "The second sample was taken as late as day 14, too soon for newly picked-up worms to "
        "lay (practice, up to day 21), so that the day explains no poor fall; 8 to 10 days are "
        "usual for BZ+LV (from memory: check against the published guideline).");
  group.classes = {DrugClass::bz, DrugClass::ml};
  CHECK(text(analysed({group}), CaveatCode::sampled_late).empty());
  set_dates(group, 2, 2, 11);
  CHECK(text(analysed({group}), CaveatCode::sampled_early) ==
        "The second sample was taken as early as day 9, when a drench may only have stopped the "
        "worms laying; day 14 is usual for BZ+ML, whose own days do not meet (from memory: check "
        "against the published guideline).");
  group.classes = {};
  set_dates(group, 2, 2, 5);
  CHECK(text(analysed({group}), CaveatCode::sampled_early)
            .ends_with("7 to 21 days are usual (practice)."));
  CHECK(days_in_words({}) == "day 7 to 21");
  UsualDays bz{8, 10, {DrugClass::bz}, false, true, {}};
  CHECK(days_in_words(bz) == "day 8 to 10, or day 14 where classes are compared");
  bz.first_day = bz.last_day = common_day();
  CHECK(days_in_words(bz) == "day 14");
}

TEST_CASE("Animals of one group sampled far apart") {
  Group group = four();
  group.classes = {DrugClass::bz};
  set_dates(group, 2, 2, 11);             // day 9
  group.animals[3].date_after = june(16); // day 14
  TrialAnalysis trial = analysed({group});
  CHECK(text(trial, CaveatCode::days_apart) ==
        "The second samples of this group were taken 9 to 14 days after treatment: animals sampled "
        "so far apart cannot be compared.");
  CHECK(find(trial.groups[0], CaveatCode::days_apart)->severity == Severity::warning);
  CHECK(text(trial, CaveatCode::sampled_late)
            .starts_with("The second samples of 1 of 4 animals were taken as late as day 14, "));
  group.animals[3].date_treated = june(7); // day 9 as well, on another date
  trial = analysed({group});
  CHECK(text(trial, CaveatCode::days_apart) ==
        "The second samples of this group were taken on days as far apart as 2031-06-11 to "
        "2031-06-16: weather and grazing may have differed.");
  CHECK(find(trial.groups[0], CaveatCode::days_apart)->severity == Severity::note);
  group.animals[3].date_treated = june(2);
  group.animals[3].date_after = june(14); // day 12: 3 days apart are allowed
  CHECK(text(analysed({group}), CaveatCode::days_apart).empty());
}

TEST_CASE("Treated group and control sampled on different days") {
  Group treated = four();
  set_dates(treated, 2, 2, 16);
  Group untreated = control();
  set_dates(untreated, 2, 2, 16);
  CHECK(text(analysed({treated, untreated}), CaveatCode::control_days).empty());
  set_dates(untreated, 2, 2, 17);
  TrialAnalysis trial = analysed({treated, untreated});
  CHECK(text(trial, CaveatCode::control_days) ==
        "The control's second samples were not taken on the same days as this group's (2031-06-17 "
        "against 2031-06-16).");
  CHECK(find(trial.groups[0], CaveatCode::control_days)->severity == Severity::note);
  set_dates(untreated, 2, 2, 21);
  trial = analysed({treated, untreated});
  CHECK(text(trial, CaveatCode::control_days) ==
        "The control's second samples were not taken on the same days as this group's (2031-06-21 "
        "against 2031-06-16): in up to 5 days the season or the weather alone can change counts, "
        "so the control says little of this group.");
  CHECK(find(trial.groups[0], CaveatCode::control_days)->severity == Severity::note); // paired
  AnalysisSettings settings;
  settings.design = Design::two_group;
  trial = analysed({treated, untreated}, settings);
  CHECK(find(trial.groups[0], CaveatCode::control_days)->severity == Severity::warning);
}

TEST_CASE("Groups of one trial treated on different days") {
  Group first = four("T");
  Group second = four("U");
  set_dates(first, 2, 2, 16);
  set_dates(second, 9, 9, 23);
  const TrialAnalysis trial = analysed({first, second});
  CHECK(text(trial, CaveatCode::treated_apart).empty());
  CHECK(text(trial, CaveatCode::treated_apart, 1) ==
        "This group was treated 7 days after T (2031-06-09 against 2031-06-02): compare the two "
        "with care, as weather and new worms may have differed.");
  set_dates(second, 5, 5, 19); // 3 days are allowed
  CHECK(text(analysed({first, second}), CaveatCode::treated_apart, 1).empty());
}

TEST_CASE("Animals missing after treatment") {
  Group group = support::group("T", {100, 100, 100, 100, 5}, {2, 1, 2, 1, 0}, 15, 15);
  group.animals[4].after.reset();
  // 1 - (6 + 5)/405 = 97.28%, 1 - 6/405 = 98.52%; sheep: 90 and 95%.
  TrialAnalysis trial = analysed({group});
  CHECK(text(trial, CaveatCode::missing_after) ==
        "1 animal sampled before treatment was not sampled after (5). Dead or sold animals may be "
        "those with the most worms. Had their counts not fallen at all, the group would show a "
        "fall of 97.3%; had they had no egg, a fall of 98.5%.");
  CHECK(find(trial.groups[0], CaveatCode::missing_after)->severity == Severity::note);
  // 1 - (6 + 30)/430 = 91.63%, 1 - 6/430 = 98.60%: 95% lies between.
  group.animals[4].before = Count{EggsSeen(30), MultiplicationFactor(15)};
  trial = analysed({group});
  CHECK(text(trial, CaveatCode::missing_after)
            .ends_with("a fall of 91.6%; had they had no egg, a fall of 98.6%. That could change "
                       "the class: find out what became of them."));
  CHECK(find(trial.groups[0], CaveatCode::missing_after)->severity == Severity::warning);
  // Counts that rose: 1 - (410 + 30)/430 is a rise of 2.3%, 1 - 410/430 a fall of 4.65%.
  for (std::size_t i = 0; i < 4; ++i)
    group.animals[i].after = Count{EggsSeen(i == 0 ? 110 : 100), MultiplicationFactor(15)};
  CHECK(text(analysed({group}), CaveatCode::missing_after)
            .find("would show a rise of 2.3%; had they had no egg, a fall of 4.7%.") !=
        std::string::npos);
}

TEST_CASE("JSON has each animal's dose and days, and those of the group") {
  Group group = four();
  group.classes = {DrugClass::bz};
  set_dates(group, 1, 2, 11);
  for (const auto& [animal, kg] : {std::pair{0U, 20}, {1U, 40}, {2U, 50}})
    dose(group, animal, kg, 8);
  group.animals[1].mg_per_ml = 25;
  group.animals[2].after.reset();
  const auto json =
      nlohmann::json::parse(analysis_json({analysed({group, four("U")})}, {}))["trials"][0];
  const auto& first = json["groups"][0];
  // 0.2 mL per kg x 20, 40, 50 kg = 4, 8, 10 mL: 200, 100 and 80%; 8 x 25 / 40 = 5 mg per kg.
  CHECK(first["dose"]["checked"] == 3);
  CHECK(first["dose"]["under"] == nlohmann::json{"3"});
  CHECK(first["dose"]["over"] == nlohmann::json{"1"});
  CHECK(first["dose"]["lowest_percent"].get<double>() == Approx(80));
  CHECK(first["dose"]["highest_animal"] == "1");
  CHECK(first["dose"]["one_dose_ml"] == 8);
  CHECK(first["dose"]["heaviest_animal"] == "3");
  CHECK(first["dose"]["heaviest_needs_ml"].get<double>() == Approx(10));
  CHECK(first["days"]["first_day"] == 9);
  CHECK(first["days"]["usual_last_day"] == 10);
  CHECK(first["days"]["also_usual_day"] == 14); // the other group's class is another: none
  CHECK(first["days"]["longest_before"] == 1);
  // 40 + 30 + 60 = 130 eggs before, 0 after; missing 50: 1 - 50/180 = 72.22%.
  CHECK(first["missing_after"]["animals"] == 1);
  CHECK(first["missing_after"]["fall_if_unchanged_percent"].get<double>() ==
        Approx(100 * 13 / 18.));
  CHECK(first["missing_after"]["fall_if_none_percent"] == 100);
  CHECK(first["per_animal"][1]["dose_of_label_percent"].get<double>() == Approx(100));
  CHECK(first["per_animal"][1]["mg_per_kg"] == 5);
  CHECK(first["per_animal"][1]["days_after"] == 9);
  CHECK(first["per_animal"][0]["mg_per_kg"].is_null());
  CHECK(first["per_animal"][2]["days_after"].is_null());
  CHECK(first["per_animal"][3]["dose_of_label_percent"].is_null());
  const auto& second = json["groups"][1];
  CHECK(second["dose"].is_null());
  CHECK(second["missing_after"].is_null());
  CHECK(second["days"]["first_day"].is_null());
  CHECK(second["days"]["undated"] == 4);
}

TEST_CASE("The table of doses and days has the columns that hold anything, in 80 columns") {
  Group group = four();
  CHECK(field_table(check_doses(group), check_days(group, {})).empty());
  set_dates(group, 1, 2, 11);
  CHECK(field_table(check_doses(group), check_days(group, {})) == "    animal   days   days\n"
                                                                  "           before  after\n"
                                                                  "    1           1      9\n"
                                                                  "    2           1      9\n"
                                                                  "    3           1      9\n"
                                                                  "    4           1      9\n");
  dose(group, 0, 999.5, 200);
  group.animals[0].mg_per_ml = 250.25;
  group.animals[1].tag = "a tag of twenty-six letters";
  group.animals[1].tag.resize(26);
  std::istringstream lines(field_table(check_doses(group), check_days(group, {})));
  std::size_t rows = 0;
  for (std::string line; std::getline(lines, line); ++rows)
    CHECK(character_count(line) <= 80);
  CHECK(rows == 6);
}

TEST_CASE("Short doses that explain an open answer are told first, with the others' fall") {
  Group group = support::group("T", {30, 22, 41, 18, 27, 15, 12, 33, 24, 19, 26},
                               {10, 0, 12, 1, 9, 0, 3, 8, 0, 0, 1}, 15, 15);
  group.host = "sheep";
  group.classes = {DrugClass::bz};
  // All got 6 mL: enough for 30 kg, and too little for the five of 45 kg.
  for (std::size_t i = 0; i < group.animals.size(); ++i)
    dose(group, i, group.animals[i].after->eggs.value() > 1 ? 45 : 30, 6, 0.2);
  TrialAnalysis trial = analysed({group});
  REQUIRE(trial.groups[0].judgement.first_verdict().verdict_class == VerdictClass::inconclusive);
  CHECK(trial.groups[0].caveats.front().code == CaveatCode::underdosed);
  CHECK(trial.groups[0].caveats.front().severity == Severity::serious);
  // The six given enough: 124 eggs to 2.
  CHECK(text(trial, CaveatCode::underdosed).ends_with("the group shows a fall of 98.4%."));
  // Where those given enough did no better, the doses explain nothing.
  for (Animal& animal : group.animals)
    animal.weight_kg = animal.after->eggs.value() > 1 ? 30 : 45;
  trial = analysed({group});
  CHECK(find(trial.groups[0], CaveatCode::underdosed)->severity == Severity::warning);
}

namespace {

/// What a paired trial with a verdict of 90 and 95% says of field work that is set up line by line.
struct MadeField {
  FieldCheck field = {};
  GroupEvidence evidence = {};
  Judgement judgement = {};
  ControlAnalysis control = {};
  std::optional<FirstTreated> first_treated = {};
  bool units_confirmed = false;

  explicit MadeField(VerdictClass verdict_class = VerdictClass::inconclusive) {
    evidence.design = Design::paired;
    evidence.group.name = "T";
    Verdict verdict;
    verdict.verdict_class = verdict_class;
    verdict.lower = 0.9;
    verdict.expected = 0.95;
    judgement.verdicts = {verdict};
  }

  /// One animal sampled so many days after treatment.
  void sampled_on_day(int day) {
    AnimalDays animal;
    animal.after = day;
    field.days.animals.push_back(animal);
    field.days.first_day = std::min(field.days.first_day.value_or(day), day);
    field.days.last_day = std::max(field.days.last_day.value_or(day), day);
  }

  /// All caveats as "severity code: text".
  std::vector<std::string> lines() const {
    const CutOffs none;
    const Criteria criteria;
    return support::lines(field_caveats(field, evidence, judgement,
                                        {.cut_offs = none,
                                         .criteria = criteria,
                                         .control = &control,
                                         .wanted = std::nullopt,
                                         .first_treated = first_treated,
                                         .units_confirmed = units_confirmed}));
  }

  /// The caveat that there is; empty without one.
  std::string line() const {
    const std::vector<std::string> all = lines();
    REQUIRE(all.size() <= 1);
    return all.empty() ? std::string() : all.front();
  }
};

} // namespace

TEST_CASE("Days that are not known are told of all animals, or of as many as they are") {
  MadeField made;
  CHECK(made.line().empty());
  made.field.days.undated = 1;
  CHECK(made.line() == "note days-missing: The days between treatment and second sample are not "
                       "known; a sample too early or too late can mislead.");
  made.sampled_on_day(10);
  CHECK(made.line() == "note days-missing: The days between treatment and second sample are not "
                       "known for 1 animal; a sample too early or too late can mislead.");
}

TEST_CASE("One animal sampled early or late is told, and what its day may do") {
  MadeField early;
  early.sampled_on_day(9);
  early.sampled_on_day(10);
  early.field.days.usual = UsualDays{10, 14, {}, false, false, {}};
  early.field.days.early = 1;
  CHECK(early.line().starts_with("warning sampled-early: The second samples of 1 of 2 animals were "
                                 "taken as early as day 9, when a drench may only have stopped"));
  const auto late = [](int day) {
    MadeField made;
    made.sampled_on_day(day);
    made.field.days.late = 1;
    return made.line();
  };
  CHECK(late(21).starts_with("warning sampled-late: The second sample was taken as late as day 21, "
                             "too soon for newly picked-up worms to lay (practice, up to day 21)"));
  CHECK(late(22).starts_with("warning sampled-late: The second sample was taken as late as day 22, "
                             "when newly picked-up worms may lay again; "));
}

TEST_CASE(
    "A first sample long before treatment is a warning, and from the fourth week on serious") {
  const auto before = [](int days) {
    MadeField made;
    made.field.days.longest_before = days;
    return made.line();
  };
  CHECK(before(14).empty());
  CHECK(before(15) == "warning sampled-long-before: The first sample was taken up to 15 days "
                      "before treatment, long enough for counts to change by themselves.");
  CHECK(before(21).starts_with("warning "));
  CHECK(before(22).starts_with("serious "));
}

TEST_CASE("Three days between the control's samples and the group's are near, and four are far") {
  const auto apart = [](int days, Design design) {
    MadeField made;
    made.evidence.design = design;
    made.field.control = ControlDays{std::nullopt, days};
    made.field.days.second_samples = DateRange{june(10), june(10)};
    made.control.days.second_samples = DateRange{june(10), june(10 + static_cast<unsigned>(days))};
    return made.line();
  };
  CHECK(apart(0, Design::two_group).empty());
  CHECK(apart(3, Design::two_group) ==
        "note control-days: The control's second samples were not taken on the same days as this "
        "group's (2031-06-10 to 2031-06-13 against 2031-06-10).");
  CHECK(apart(4, Design::two_group)
            .starts_with("warning control-days: The control's second samples were not taken on the "
                         "same days as this group's (2031-06-10 to 2031-06-14 against "
                         "2031-06-10): in up to 4 days"));
  CHECK(apart(4, Design::controlled).starts_with("warning "));
  CHECK(apart(4, Design::paired).starts_with("note "));
}

TEST_CASE("Numbers that looked wrong and were confirmed are told, and only then") {
  MadeField made;
  made.units_confirmed = true;
  CHECK(made.line().empty());
  made.field.units = UnitDoubt{UnitDoubt::Kind::epg_as_eggs, 4, 50, {}};
  CHECK(made.line() ==
        "serious units-confirmed: The counts look like eggs per gram (all 4 different ones above "
        "zero are multiples of 50), but were said to be eggs seen. If they are eggs per gram after "
        "all, they prove far less than is said here.");
  made.field.units = UnitDoubt{UnitDoubt::Kind::swapped, 4, 0, 16.7};
  CHECK(made.line() == "serious units-confirmed: There were 17 times as many eggs after treatment "
                       "as before, but the two samples were said not to be swapped. If they are "
                       "swapped after all, nothing said here holds.");
  made.units_confirmed = false;
  CHECK(made.line().empty());
}

TEST_CASE("A group treated later than another is told so from the fourth day on, and only it") {
  MadeField made;
  made.field.days.treatments = DateRange{june(6), june(6)};
  CHECK(made.line().empty());
  made.first_treated = FirstTreated{"U", june(3)};
  CHECK(made.line().empty());
  made.first_treated = FirstTreated{"U", june(2)};
  CHECK(made.line().starts_with("note treated-apart: This group was treated 4 days after U "
                                "(2031-06-06 against 2031-06-02): "));
  made.first_treated = FirstTreated{"T", june(2)}; // itself
  CHECK(made.line().empty());
}

TEST_CASE("Short doses are serious where they explain what is open, in a design that pairs") {
  const auto underdosed = [](VerdictClass verdict_class, double without, double needed,
                             Design design = Design::paired) {
    MadeField made(verdict_class);
    made.evidence.design = design;
    made.field.doses.animals = {{"1", 40, 7, needed, 7 / needed, {}}, {"2", 30, 7, 6, 7 / 6., {}}};
    made.field.doses.heaviest = 0;
    made.field.doses.one_dose_ml = 7;
    made.field.doses.under = {0};
    made.field.doses.checked = 2;
    made.field.doses.dosed = true;
    made.field.doses.reduction_without_under = without;
    return made.line();
  };
  const auto open = VerdictClass::inconclusive;
  CHECK(underdosed(open, 0.95, 8) ==
        "serious underdosed: 1 animal got less than the label's dose for the weight: 1 (88%). All "
        "got 7 mL, but the heaviest weighed, 1 (40 kg), needs 8 mL: a setting of the gun must be "
        "right for the heaviest it is used on, so draft animals by weight where they differ. A "
        "poor fall may be the dose's fault; without it the group shows a fall of 95.0%.");
  CHECK(underdosed(VerdictClass::suspected, 0.95, 8).starts_with("serious "));
  CHECK(underdosed(open, 0.94, 8).starts_with("warning "));
  CHECK(underdosed(VerdictClass::resistant, 0.95, 8).starts_with("warning ")); // a bar tells it
  // One setting that is just right for the heaviest says nothing of the gun.
  CHECK(underdosed(open, 0.95, 7).find("All got") == std::string::npos);
  // Where animals are not paired, those left are no measure.
  CHECK(underdosed(open, 0.95, 8, Design::two_group).starts_with("warning "));
  CHECK(underdosed(open, 0.95, 8, Design::two_group).ends_with("may be the dose's fault."));
}

TEST_CASE("Missing animals matter where their counts could move the fall across a threshold") {
  const auto missing = [](double worst, double best) {
    MadeField made;
    made.field.missing_after = MissingAfter{1, {"5"}, 0.2, 0.2, worst, best};
    return made.line();
  };
  const std::string matters = " That could change the class: find out what became of them.";
  CHECK(missing(0.80, 0.89) ==
        "note missing-after: 1 animal sampled before treatment was not sampled after (5). Dead or "
        "sold animals may be those with the most worms. Had their counts not fallen at all, the "
        "group would show a fall of 80.0%; had they had no egg, a fall of 89.0%.");
  for (const auto& [worst, best] : {std::pair(0.91, 0.94), {0.90, 0.94}, {0.95, 0.99}})
    CHECK(missing(worst, best).starts_with("note "));
  for (const auto& [worst, best] : {std::pair(0.89, 0.90), {0.94, 0.95}, {0.80, 0.99}}) {
    CHECK(missing(worst, best).starts_with("warning "));
    CHECK(missing(worst, best).ends_with(matters));
  }
  // A fall just short of a threshold does not look like it; no change is no rise.
  CHECK(missing(0.8999, 0.94996)
            .find("would show a fall of 89.99%; had they had no egg, a fall of 94.996%.") !=
        std::string::npos);
  CHECK(missing(0.0, 0.5).find("would show a fall of 0.0%;") != std::string::npos);
  MadeField unknown;
  unknown.field.missing_after = MissingAfter{2, {"5", "6"}, 0.2, 0.2, {}, {}};
  CHECK(unknown.line() ==
        "note missing-after: 2 animals sampled before treatment were not sampled after (5 and 6). "
        "Dead or sold animals may be those with the most worms.");
}

TEST_CASE("What kept doses from being checked is told in one or in many") {
  MadeField made;
  made.field.doses.animals = {{"1", 40, 7, {}, {}, {}}, {"2", {}, 7, {}, {}, {}}};
  made.field.doses.dosed = true;
  made.field.doses.heaviest = 0;
  made.field.doses.not_weighed = {1};
  CHECK(made.line() == "note weights-missing: 1 animal was dosed but not weighed (2): the dose "
                       "check covers only those weighed, and a heavier one may be among the "
                       "others.");
  made.field.doses.not_weighed = {0, 1};
  CHECK(made.line().starts_with("note weights-missing: 2 animals were dosed but not weighed "));
  made.field.doses.not_weighed.clear();
  made.field.doses.no_label_rate = {0, 1};
  CHECK(made.line().ends_with("so doses were not checked."));
  made.field.doses.checked = 1;
  CHECK(made.line().ends_with("so the dose of 2 animals was not checked."));
}
