#include "judgement/caveats.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

namespace {

GroupAnalysis analysed(std::vector<Group> groups) {
  return analyse({"t", std::move(groups)}, published_cut_offs(), {}).groups.front();
}

/// The text of a caveat; empty if there is none of this code.
std::string text(const GroupAnalysis& group, CaveatCode code) {
  const auto found = std::ranges::find(group.caveats, code, &Caveat::code);
  return found == group.caveats.end() ? std::string() : found->text;
}

Group trial_a_group() {
  return support::group("T", trial_a::before, trial_a::after, 50, 50);
}

void set_days(Group& group, unsigned before, unsigned treated, unsigned after) {
  using namespace std::chrono;
  for (Animal& animal : group.animals) {
    animal.date_before = year(2031) / March / day(before);
    animal.date_treated = year(2031) / March / day(treated);
    animal.date_after = year(2031) / March / day(after);
  }
}

Group as_control(Group group) {
  group.role = Role::control;
  return group;
}

} // namespace

TEST_CASE("Caveats on the number of animals and eggs") {
  const GroupAnalysis few = analysed({support::group("T", {20, 10, 30}, {1, 0, 0}, 50, 50)});
  CHECK(text(few, CaveatCode::few_animals) ==
        "Only 3 animals; WAAVP 1992 asks for at least 10, and better 15.");
  Group cattle = support::group("T", {20, 10, 30}, {1, 0, 0}, 50, 50);
  cattle.host = "cattle";
  CHECK(text(analysed({cattle}), CaveatCode::few_animals) ==
        "Only 3 animals: one odd animal can decide the result.");
  CHECK(text(analysed({trial_a_group()}), CaveatCode::few_animals) ==
        "12 animals; WAAVP 1992 calls 15 better.");

  // What zero after would have given is the lower limit of the verdict's own method.
  const GroupAnalysis eggs = analysed({support::group("T", {4, 4, 3, 4}, {0, 0, 0, 0}, 50, 50)});
  CHECK(eggs.judgement.best_lower == eggs.judgement.first_verdict().interval->lower);
  CHECK(text(eggs, CaveatCode::few_eggs_counted)
            .starts_with("Only 15 eggs were counted before treatment: even with none found after "
                         "treatment the lower limit is no more than "));
  CHECK(has_caveat(eggs.caveats, CaveatCode::few_eggs_counted, Severity::serious));
  // What a good drench could have shown is idle where this one failed.
  const GroupAnalysis failed =
      analysed({support::group("T", {4, 4, 3, 4, 5}, {4, 3, 4, 4, 5}, 50, 50)});
  REQUIRE(failed.judgement.first_verdict().verdict_class == VerdictClass::resistant);
  CHECK(has_caveat(failed.caveats, CaveatCode::few_eggs_counted, Severity::note));
  CHECK_FALSE(has_caveat(failed.caveats, CaveatCode::few_eggs_counted, Severity::serious));
  const GroupAnalysis many = analysed({trial_a_group()});
  CHECK(*many.judgement.best_lower > *many.judgement.first_verdict().interval->lower);
  CHECK(text(many, CaveatCode::few_eggs_counted).empty());
  const GroupAnalysis two = analysed({support::group("T", {}, trial_a::after, 50, 50),
                                      as_control(support::group("C", {}, {40, 50}, 50, 50))});
  CHECK(text(two, CaveatCode::few_animals) ==
        "Only 2 animals in the control group; WAAVP 1992 asks for at least 10, and better 15.");
  Group horses = trial_a_group();
  horses.host = "horses";
  horses.worm = "strongyles";
  horses.classes = {DrugClass::bz};
  CHECK(text(analysed({horses}), CaveatCode::few_eggs_counted) ==
        "On average 15.7 eggs an animal were counted before treatment; 40 are asked for (AAEP "
        "Internal Parasite Control Guidelines 2024, p. 14).");
  CHECK(text(analysed({support::group("T", trial_a::before, trial_a::after, 5, 5)}),
             CaveatCode::low_mean_before) ==
        "The mean count before treatment was 78.3 EPG; WAAVP 1992 asks for at least 150.");
  CHECK(text(analysed({trial_a_group()}), CaveatCode::low_mean_before).empty());
}

TEST_CASE("Caveats on what the counts can show") {
  const GroupAnalysis none =
      analysed({support::group("T", trial_a::before, std::vector<std::uint32_t>(12, 0), 50, 50)});
  // 1 - 0.05^(1/188) = 0.015809, odds 0.016063.
  CHECK(text(none, CaveatCode::none_after) ==
        "No egg was found after treatment, which does not prove 100%: with 188 eggs counted before "
        "treatment, a true fall as low as 98.4% would still show none one time in twenty, by luck "
        "of counting alone.");
  CHECK(text(analysed({trial_a_group()}), CaveatCode::detection_limit) ==
        "One egg seen after treatment stands for 50 EPG; a single one in the whole group makes the "
        "fall 99.5%, so a fall above that cannot be told from 100%.");
  CHECK(text(analysed({support::group("T", {3, 4, 5, 3}, {0, 1, 0, 0}, 50, 50)}),
             CaveatCode::detection_limit) ==
        "The count is too coarse: one egg seen after treatment stands for 50 EPG, and a single one "
        "in the whole group would make the fall 93.3%, below the expected 95%.");
  CHECK(text(analysed({support::group("T", {30, 40, 50}, {6, 1, 0})}), CaveatCode::one_animal) ==
        "Animal 1 alone carried 86% of the eggs after treatment; check that it was weighed and "
        "dosed properly before blaming the drench.");
  CHECK(text(analysed({support::group("T", {30, 0, 50}, {1, 1, 0})}), CaveatCode::zero_before) ==
        "1 of 3 animals had no egg before treatment and so cannot show a fall: 2.");
  CHECK(text(analysed({support::group("T", trial_a::before, trial_a::after, 15, 5)}),
             CaveatCode::factors_differ) ==
        "One egg stands for 15 EPG before treatment and 5 after; the results allow for it.");
}

TEST_CASE("What one egg could do is idle where many are left") {
  const auto severity = [](std::vector<std::uint32_t> after) {
    const GroupAnalysis analysis =
        analysed({support::group("T", {3, 4, 5, 3}, std::move(after), 50, 50)});
    for (const Caveat& caveat : analysis.caveats)
      if (caveat.code == CaveatCode::detection_limit)
        return std::pair(analysis.judgement.first_verdict().verdict_class, caveat.severity);
    FAIL("no caveat on the detection limit");
    return std::pair(VerdictClass::not_applicable, Severity::note);
  };
  // One egg of 15 makes 93.3%, below the expected 95%.
  CHECK(severity({3, 4, 2, 1}) == std::pair(VerdictClass::resistant, Severity::note));
  CHECK(severity({3, 4, 1, 1}) == std::pair(VerdictClass::resistant, Severity::serious));
  CHECK(severity({0, 1, 0, 0}) == std::pair(VerdictClass::inconclusive, Severity::serious));
}

TEST_CASE("Whether one animal is blamed does not hang on the order of rows") {
  // 5 of 10 eggs; at a factor that no double holds, sums differ in their last digit by their order.
  const double factor = 0.0050901434866718115;
  Group rows = support::group("T", {4, 3, 2, 1, 2, 4, 9}, {0, 0, 0, 0, 3, 5, 2}, factor, factor);
  std::size_t orders = 0;
  std::ranges::sort(rows.animals, {}, &Animal::tag);
  do {
    ++orders;
    REQUIRE(text(analysed({rows}), CaveatCode::one_animal).empty());
    std::ranges::rotate(rows.animals, rows.animals.begin() + 1);
  } while (orders < rows.animals.size());
  std::ranges::reverse(rows.animals);
  CHECK(text(analysed({rows}), CaveatCode::one_animal).empty());
}

TEST_CASE("One animal of two with as many eggs is not blamed, and pools are called so") {
  CHECK(text(analysed({support::group("T", {30, 40, 50}, {6, 6, 0})}), CaveatCode::one_animal)
            .empty());
  Group pools = support::group("T", {30, 40, 50}, {4, 3, 0});
  const auto mix = [&](std::size_t pool, std::uint32_t animals) {
    pools.animals[pool].before->animals = animals;
    pools.animals[pool].after->animals = animals;
  };
  mix(0, 2);
  mix(1, 8);
  mix(2, 10);
  // 3 eggs of 8 animals are more than 4 of 2.
  CHECK(text(analysed({pools}), CaveatCode::one_animal) ==
        "Pool 2 alone carried 75% of the eggs after treatment; check that its animals were weighed "
        "and dosed properly before blaming the drench.");
  // Before: (2 x 30 + 8 x 40 + 10 x 50)/20 = 44; one egg in the pool of 10 is 0.5 EPG of the mean.
  CHECK_THAT(text(analysed({pools}), CaveatCode::detection_limit),
             Catch::Contains("a single one in the largest pool makes the fall 98.9%"));
  CHECK_THAT(text(analysed({pools}), CaveatCode::pooled),
             Catch::StartsWith("The samples are of 3 pools of 20 animals. "));
  mix(2, 1);
  CHECK_THAT(
      text(analysed({pools}), CaveatCode::pooled),
      Catch::StartsWith("The samples are of 2 pools and 1 single animal, 11 animals in all."));
  for (Animal& animal : pools.animals)
    animal.after->eggs = EggsSeen(0);
  CHECK(text(analysed({pools}), CaveatCode::none_after) ==
        "No egg was found after treatment, which does not prove 100%.");
}

TEST_CASE("What is missing for any comparison is named") {
  const auto why = [](std::vector<Group> groups) {
    return text(analysed(std::move(groups)), CaveatCode::no_estimate);
  };
  CHECK(why({support::group("T", {20, 30}, {})}) ==
        "The fall cannot be worked out: no animal of the group was sampled after treatment.");
  CHECK(why({support::group("T", {}, {2, 3})}) ==
        "The fall cannot be worked out: no animal of the group was sampled before treatment, and "
        "there is no control group.");
  Group apart = support::group("T", {20, 30}, {1, 2});
  apart.animals[0].after.reset();
  apart.animals[1].before.reset();
  CHECK(why({apart}) == "The fall cannot be worked out: no animal of the group was sampled both "
                        "before and after treatment, and there is no control group.");
}

TEST_CASE("Point estimate and interval in different classes") {
  const GroupAnalysis group =
      analysed({support::group("T", {20, 30, 10, 40, 25}, {0, 0, 8, 1, 0}, 50, 50)});
  REQUIRE(group.judgement.first_verdict().verdict_class == VerdictClass::inconclusive);
  CHECK(text(group, CaveatCode::point_and_interval)
            .starts_with("The fall itself, 92.8%, is above the lower threshold of 90%, but the "
                         "interval reaches down to"));
}

TEST_CASE("Caveats on days") {
  Group group = trial_a_group();
  CHECK(text(analysed({group}), CaveatCode::days_missing)
            .starts_with("The days between treatment and"));
  // For so many animals they are not known only if they are for others.
  Group not_found_again = group;
  not_found_again.animals.back().after.reset();
  CHECK(text(analysed({not_found_again}), CaveatCode::days_missing)
            .starts_with("The days between treatment and second sample are not known; a sample"));
  set_days(group, 1, 1, 10);
  group.animals.back().date_after.reset();
  CHECK(text(analysed({group}), CaveatCode::days_missing)
            .starts_with("The days between treatment and second sample are not known for 1 animal; "
                         "a sample"));
  group.classes = {DrugClass::bz};
  set_days(group, 1, 1, 5);
  CHECK(text(analysed({group}), CaveatCode::sampled_early) ==
        "The second sample was taken as early as day 4, when a drench may only have stopped the "
        "worms laying; 8 to 10 days are usual for BZ (from memory: check against the published "
        "guideline).");
  set_days(group, 1, 1, 22);
  CHECK(text(analysed({group}), CaveatCode::sampled_late)
            .starts_with("The second sample was taken as late as day 21"));
  set_days(group, 1, 1, 10);
  for (const CaveatCode code : {CaveatCode::sampled_early, CaveatCode::sampled_late,
                                CaveatCode::days_missing, CaveatCode::sampled_long_before})
    CHECK(text(analysed({group}), code).empty());
  SECTION("day 14 serves when classes are compared together") {
    set_days(group, 1, 1, 15);
    CHECK_FALSE(text(analysed({group}), CaveatCode::sampled_late).empty());
    Group other = group;
    other.name = "U";
    CHECK_FALSE(text(analysed({group, other}), CaveatCode::sampled_late).empty());
    other.classes = {DrugClass::lv};
    CHECK(text(analysed({group, other}), CaveatCode::sampled_late).empty());
  }
  set_days(group, 1, 20, 29);
  CHECK(text(analysed({group}), CaveatCode::sampled_long_before).find("19 days before") !=
        std::string::npos);
}

TEST_CASE("Caveats on doses, dropped animals, control and many groups") {
  Group group = trial_a_group();
  group.animals[0].weight_kg = 40;
  group.animals[0].dose_ml = 6;
  CHECK_FALSE(text(analysed({group}), CaveatCode::label_rate_missing).empty());
  group.animals[0].label_ml_per_kg = 0.2;
  // Without its 14 and 0 eggs: 1 - 8/174 = 95.40%.
  CHECK(text(analysed({group}), CaveatCode::underdosed) ==
        "1 animal got less than the label's dose for the weight: 1 (75%). A poor fall may be the "
        "dose's fault; without it the group shows a fall of 95.4%.");
  group.animals[0].dose_ml = 8;
  CHECK(text(analysed({group}), CaveatCode::underdosed).empty());
  group.animals[3].after.reset();
  CHECK(text(analysed({group}), CaveatCode::dropped) ==
        "Left out of this comparison: 4 (not sampled after treatment).");

  const Group control = as_control(support::group("C", {10, 10}, {5, 5}, 50, 50));
  // The season is taken out, and told beside the fall.
  const GroupAnalysis with_control = analysed({trial_a_group(), control});
  CHECK(text(with_control, CaveatCode::control_changed).empty());
  CHECK(text(with_control, CaveatCode::season_unseen).empty());
  REQUIRE(with_control.judgement.own_fall);
  CHECK(*with_control.judgement.own_fall->control_fall == 0.5);
  CHECK(*with_control.judgement.own_fall->verdict.reduction < 0.957);
  CHECK(text(analysed({trial_a_group()}), CaveatCode::season_unseen)
            .starts_with("No animal was left untreated: had the season alone"));
  Group other = trial_a_group();
  other.name = "U";
  CHECK(text(analysed({trial_a_group(), other}), CaveatCode::several_groups) ==
        "2 groups are judged at once; with 90% intervals the chance that at least one misses its "
        "truth is about 19%, if each is right that often.");
}

TEST_CASE("The most serious caveat comes first") {
  const GroupAnalysis group = analysed({support::group("T", {2, 0, 1}, {0, 0, 0}, 50, 50)});
  CHECK(std::ranges::is_sorted(group.caveats, {}, &Caveat::severity));
  CHECK(group.caveats.front().severity == Severity::serious);
}

TEST_CASE("Counts that rose without the control's are asked about, as samples may be swapped") {
  const Group swapped = support::group("T", {7, 5, 12, 4}, {14, 9, 22, 11}, 50, 50); // 56/28 = 2
  CHECK(text(analysed({swapped}), CaveatCode::counts_rose) ==
        "Counts rose by 100% after treatment: check first that before and after are not swapped, "
        "in the table or at the bench.");
  CHECK_THAT(analysed({swapped}).advice.next_step.text(),
             Catch::StartsWith("Counts rose: check first that before and after are not swapped. "));
  const Group held = as_control(support::group("C", {10, 8, 20, 12}, {11, 8, 20, 12}, 50, 50));
  CHECK_THAT(text(analysed({swapped, held}), CaveatCode::counts_rose),
             Catch::Contains("and those of untreated animals did not"));
  const Group rose = as_control(support::group("C", {10, 8, 20, 12}, {16, 15, 29, 17}, 50, 50));
  CHECK(text(analysed({swapped, rose}), CaveatCode::counts_rose).empty());        // a season
  const Group slight = support::group("T", {7, 5, 12, 4}, {9, 8, 16, 9}, 50, 50); // 42/28 = 1.5
  CHECK(text(analysed({slight}), CaveatCode::counts_rose).empty());
  const Group few = support::group("T", {1, 2, 1, 1}, {4, 5, 6, 4}, 50, 50); // 19 eggs
  CHECK(text(analysed({few}), CaveatCode::counts_rose).empty());
}

TEST_CASE("A mean that no group carries is asked about") {
  // 415 eggs on average at 50 EPG: 20,750.
  Group group = support::group("T", {417, 389, 441, 413}, {0, 1, 0, 0}, 50, 50);
  CHECK(text(analysed({group}), CaveatCode::mean_implausible)
            .starts_with("The mean count before treatment was 20750 EPG; a group of sheep hardly "
                         "ever goes beyond 20000 (from memory). Check the factor"));
  CHECK(has_caveat(analysed({group}).caveats, CaveatCode::mean_implausible, Severity::serious));
  group = support::group("T", {397, 389, 401, 407}, {0, 1, 0, 0}, 50, 50); // 19,925
  CHECK(text(analysed({group}), CaveatCode::mean_implausible).empty());
  group.host = "cattle";
  CHECK_FALSE(text(analysed({group}), CaveatCode::mean_implausible).empty());
}

TEST_CASE("A first sample weeks before treatment is a reason for care, past three weeks") {
  Group group = support::group("T", std::vector<std::uint32_t>(15, 40),
                               std::vector<std::uint32_t>(15, 0), 15, 15);
  group.classes = {DrugClass::bz};
  const auto severity = [&](unsigned before) {
    set_days(group, before, 23, 31);
    const GroupAnalysis result = analysed({group});
    CHECK((result.judgement.standing.care == Care::sampled_long_before) == (before == 1));
    if (before == 1)
      CHECK_THAT(result.advice.next_step.text(),
                 Catch::Contains("first sample was taken so long before"));
    return has_caveat(result.caveats, CaveatCode::sampled_long_before, Severity::serious);
  };
  CHECK(severity(1)); // 22 days
  CHECK_FALSE(severity(2));
}

TEST_CASE("No egg after that a drench too weak for the class could show by luck is serious") {
  // From 30 eggs a fall of 90% leaves 3 expected, and so none in exp(-3) = 5.0% of tests by luck
  // of counting alone (Poisson); from 20 eggs 2, and none in 13.5%.
  Group many = support::group("T", {12, 15, 9, 14, 10}, {0, 0, 0, 0, 0}, 15, 15);
  const GroupAnalysis sure = analysed({many});
  REQUIRE(sure.judgement.first_verdict().verdict_class == VerdictClass::susceptible);
  CHECK(has_caveat(sure.caveats, CaveatCode::none_after, Severity::warning));
  CHECK_FALSE(has_caveat(sure.caveats, CaveatCode::none_after, Severity::serious));
  const GroupAnalysis few =
      analysed({support::group("T", {6, 3, 9, 4, 7}, {0, 0, 0, 0, 0}, 15, 15)});
  REQUIRE(few.judgement.first_verdict().verdict_class == VerdictClass::susceptible);
  CHECK(has_caveat(few.caveats, CaveatCode::none_after, Severity::serious));
  CHECK(few.judgement.standing.care == Care::few_eggs);
  CHECK(few.advice.next_step.text().starts_with(
      "The rule is met, but by so few eggs that a drench too weak for it could look as good by "
      "luck: test again with more animals and a finer count"));
}

namespace {

/// A paired result that is set up piece by piece: counts of `factor`, a guarded interval around
/// their fall, and a verdict by 90 and 95%.
struct MadeResult {
  GroupEvidence evidence = {};
  Judgement judgement = {};
  FieldCheck field = {};
  CutOffs cut_offs = {};
  Criteria criteria = {};
  ControlAnalysis control = {};
  bool with_control = false;
  std::size_t treated_groups = 1;

  MadeResult(const std::vector<std::uint32_t>& before, const std::vector<std::uint32_t>& after,
             double factor = 15) {
    evidence.group = support::group("T", before, after, factor, factor);
    evidence.design = Design::paired;
    count();
    Verdict verdict;
    verdict.verdict_class = VerdictClass::inconclusive;
    verdict.lower = 0.9;
    verdict.expected = 0.95;
    verdict.reduction = evidence.reduction;
    verdict.interval = evidence.headline;
    judgement.verdicts = {verdict};
  }

  /// The samples anew from the animals of the group.
  void count() {
    std::vector<Count> before;
    std::vector<Count> after;
    for (const Animal& animal : evidence.group.animals) {
      if (animal.before)
        before.push_back(*animal.before);
      if (animal.after)
        after.push_back(*animal.after);
    }
    evidence.animal_results = animal_results(evidence.group);
    evidence.before = summarise(before);
    evidence.after = summarise(after);
    evidence.animals = after.size();
    evidence.reduction = 1 - evidence.after.mean_epg.value_or(0) / *evidence.before.mean_epg;
    evidence.headline = Interval{Method::guarded_posterior, 0.9, 0.5, 0.99, {}, {}};
  }

  Verdict& verdict() { return judgement.verdicts.front(); }

  /// The caveats of one code as "severity: text".
  std::vector<std::string> lines(CaveatCode code) const {
    std::vector<std::string> result;
    for (const Caveat& caveat : find_caveats(evidence, field, judgement,
                                             {.cut_offs = cut_offs,
                                             .criteria = criteria,
                                             .control = with_control ? &control : nullptr,
                                             .treated_groups = treated_groups,
                                             .wanted = std::nullopt}))
      if (caveat.code == code)
        result.push_back(std::string(to_string(caveat.severity)) + ": " + caveat.text);
    return result;
  }

  /// The one caveat of a code; empty if there is none.
  std::string line(CaveatCode code) const {
    const std::vector<std::string> all = lines(code);
    REQUIRE(all.size() <= 1);
    return all.empty() ? std::string() : all.front();
  }
};

std::vector<std::uint32_t> animals_of(std::size_t number, std::uint32_t eggs) {
  return std::vector<std::uint32_t>(number, eggs);
}

} // namespace

TEST_CASE("As many animals as a rule asks for are enough, and one fewer is not") {
  const auto animals = [](std::size_t number) {
    MadeResult made(animals_of(number, 20), animals_of(number, 1));
    Criteria rule;
    rule.title = "The rule";
    rule.minima = {Minimum{{}, 10, 15, {}, {}, {}}};
    made.cut_offs.criteria = {rule};
    return made.line(CaveatCode::few_animals);
  };
  CHECK(animals(15).empty());
  CHECK(animals(14) == "note: 14 animals; The rule calls 15 better.");
  CHECK(animals(10) == "note: 10 animals; The rule calls 15 better.");
  CHECK(animals(9) == "serious: Only 9 animals; The rule asks for at least 10, and better 15.");
  CHECK(animals(1) == "serious: Only 1 animal; The rule asks for at least 10, and better 15.");
  // Without a rule five are the fewest of which one odd one does not decide.
  const auto unruled = [](std::size_t number) {
    return MadeResult(animals_of(number, 20), animals_of(number, 1)).line(CaveatCode::few_animals);
  };
  CHECK(unruled(5).empty());
  CHECK(unruled(4) == "serious: Only 4 animals: one odd animal can decide the result.");
}

TEST_CASE("How coarse one egg is in a pool decides how much its caveat weighs") {
  const auto pooled = [](double before, double after) {
    MadeResult made({20, 20, 20}, {1, 0, 0});
    for (Animal& animal : made.evidence.group.animals) {
      animal.before = Count{EggsSeen(20), MultiplicationFactor(before), 10};
      animal.after = Count{EggsSeen(1), MultiplicationFactor(after), 10};
    }
    made.count();
    return made.line(CaveatCode::pooled);
  };
  CHECK(pooled(15, 10).starts_with("note: The samples are of 3 pools of 30 animals. "));
  CHECK(pooled(15, 10).ends_with("here it stands for 15."));
  CHECK(pooled(10, 16).starts_with("warning: "));
  CHECK(pooled(10, 16).ends_with("here it stands for 16: count more of each pool."));
  CHECK(pooled(49, 1).starts_with("warning: "));
  CHECK(pooled(50, 1).starts_with("serious: "));
  // Pools on one occasion alone are spoken of, too.
  MadeResult made({20, 20, 20}, {1, 0, 0});
  for (Animal& animal : made.evidence.group.animals)
    animal.before->animals = 10;
  made.count();
  CHECK(made.line(CaveatCode::pooled).starts_with("note: The samples are of 3 pools of 30 "));
}

TEST_CASE("Repeat counts of one sample are blamed only beyond one chance in a thousand") {
  const auto repeats = [](std::uint32_t first, std::uint32_t second) {
    MadeResult made({20, 20, 20}, {1, 0, 0});
    made.evidence.group.animals.front().repeats_before = {
        {EggsSeen(first), MultiplicationFactor(15)}, {EggsSeen(second), MultiplicationFactor(15)}};
    return made.line(CaveatCode::repeats_disagree);
  };
  // Of two counts chi-squared is (a - b)^2/(a + b), with one degree of freedom, of which 10.828 is
  // the point of one in a thousand (any table of chi-squared).
  CHECK(repeats(10, 10).empty());
  CHECK(repeats(48, 21).empty()); // 10.57
  CHECK(repeats(49, 21) ==        // 11.2
        "warning: Counts of one sample differ more than the luck of counting allows (by 11.2 times "
        "as much as they should): mix the suspension well before each filling, and count eggs "
        "alike in every chamber.");
}

TEST_CASE("Eggs are few below what a rule asks for, and where no good drench could show itself") {
  MadeResult made(animals_of(10, 4), animals_of(10, 1));
  made.criteria.minima = {Minimum{{}, {}, {}, {}, 4, {"A rule", Provenance::published}}};
  CHECK(made.line(CaveatCode::few_eggs_counted).empty());
  made.criteria.minima.front().eggs_counted_per_animal = 4.5;
  CHECK(made.line(CaveatCode::few_eggs_counted) ==
        "serious: On average 4 eggs an animal were counted before treatment; 4.5 are asked for (A "
        "rule).");
  made.criteria.minima.clear();
  made.judgement.best_lower = 0.9;
  CHECK(made.line(CaveatCode::few_eggs_counted).empty());
  made.judgement.best_lower = 0.85;
  const std::string had = "had none been found after treatment, the lower limit would be no more "
                          "than 85.0%, short of the 90% needed to call a drench good.";
  CHECK(made.line(CaveatCode::few_eggs_counted) ==
        "serious: Only 40 eggs were counted before treatment: " + had);
  made.verdict().verdict_class = VerdictClass::resistant; // has shown itself all the same
  CHECK(made.line(CaveatCode::few_eggs_counted) ==
        "note: Only 40 eggs were counted before treatment: " + had);
  MadeResult one({1, 0, 0}, {0, 0, 0});
  one.judgement.best_lower = 0.3;
  CHECK(one.line(CaveatCode::few_eggs_counted) ==
        "serious: Only 1 egg was counted before treatment: even with none found after treatment "
        "the lower limit is no more than 30.0%, short of the 90% needed to call a drench good.");
}

TEST_CASE("A mean count just as high as it may be, or as low, says nothing") {
  MadeResult made(animals_of(4, 10), animals_of(4, 1), 15); // 150 EPG
  Criteria rule;
  rule.title = "The rule";
  rule.minima = {Minimum{{}, {}, {}, 150, {}, {}}};
  made.cut_offs.criteria = {rule};
  CHECK(made.line(CaveatCode::low_mean_before).empty());
  made.cut_offs.criteria.front().minima.front().mean_epg = 151;
  CHECK(made.line(CaveatCode::low_mean_before) ==
        "warning: The mean count before treatment was 150 EPG; The rule asks for at least 151.");
  const auto mean = [](const std::string& host, std::uint32_t eggs) {
    MadeResult high(animals_of(4, eggs), animals_of(4, 1), 50);
    high.evidence.group.host = host;
    return high.line(CaveatCode::mean_implausible);
  };
  CHECK(mean("sheep", 400).empty()); // 20,000 EPG
  CHECK(mean("sheep", 401)
            .starts_with("serious: The mean count before treatment was 20050 EPG; a "
                         "group of sheep hardly ever goes beyond 20000"));
  CHECK(mean("", 401).find("; a group hardly ever goes beyond 20000") != std::string::npos);
  for (const std::string host : {"cattle", "horses"}) {
    CHECK(mean(host, 100).empty()); // 5,000 EPG
    CHECK_FALSE(mean(host, 101).empty());
  }
}

TEST_CASE("No egg after treatment proves less the fewer eggs there were") {
  MadeResult none({1, 0, 0}, {0, 0, 0});
  CHECK(none.line(CaveatCode::none_after) ==
        "warning: No egg was found after treatment, which does not prove 100%: with 1 egg counted "
        "before treatment, no fall at all would still show none one time in twenty, by luck of "
        "counting alone.");
  // 1 - 0.05^(1/27) = 0.10502, odds 0.11734: a fall of 88.3%, short of the lower threshold.
  MadeResult few({9, 9, 9}, {0, 0, 0});
  CHECK(few.line(CaveatCode::none_after).starts_with("warning: "));
  CHECK(few.line(CaveatCode::none_after).find("a true fall as low as 88.3%") != std::string::npos);
  few.verdict().verdict_class = VerdictClass::susceptible;
  CHECK(few.line(CaveatCode::none_after).starts_with("serious: "));
  MadeResult many({20, 20, 20}, {0, 0, 0});
  many.verdict().verdict_class = VerdictClass::susceptible;
  CHECK(many.line(CaveatCode::none_after).starts_with("warning: "));
  CHECK(MadeResult({9, 9, 9}, {1, 0, 0}).line(CaveatCode::none_after).empty());
  // Counts that cannot be added up have no such limit: pools of unequal size, or several factors.
  few.evidence.group.animals.front().before->animals = 2;
  few.count();
  CHECK(few.line(CaveatCode::none_after) ==
        "warning: No egg was found after treatment, which does not prove 100%.");
  MadeResult factors({9, 9, 9}, {0, 0, 0});
  factors.evidence.group.animals.front().after->factor = MultiplicationFactor(50);
  factors.count();
  CHECK(factors.line(CaveatCode::none_after) ==
        "warning: No egg was found after treatment, which does not prove 100%.");
}

TEST_CASE("An interval that is missing, or from few animals with eggs, is told") {
  MadeResult made({20, 20, 20, 20, 20}, {1, 1, 1, 1, 0});
  CHECK(made.line(CaveatCode::no_interval).empty());
  CHECK(made.line(CaveatCode::interval_optimistic).empty());
  made.evidence.headline.method = Method::paired_log_ratio;
  CHECK(made.line(CaveatCode::interval_optimistic).empty()); // four had eggs
  MadeResult three({20, 20, 20, 20, 20}, {1, 1, 1, 0, 0});
  CHECK(three.line(CaveatCode::interval_optimistic).empty()); // the law allows for it
  three.evidence.headline.method = Method::paired_log_ratio;
  CHECK(three.line(CaveatCode::interval_optimistic) ==
        "serious: Only 3 animals had eggs after treatment; an interval from so few is likely too "
        "narrow.");
  three.evidence.headline.upper.reset();
  CHECK(three.line(CaveatCode::interval_optimistic).empty());
  CHECK(three.line(CaveatCode::no_interval).starts_with("serious: How far luck alone may have"));
}

TEST_CASE("A verdict that hangs on the prior says by how much") {
  MadeResult made({20, 20, 20}, {1, 0, 0});
  const Interval wide{Method::guarded_posterior, 0.9, 0.7, 0.96, {}, {}};
  made.judgement.sensitivity = {{0.5, wide, VerdictClass::inconclusive},
                                {2, wide, VerdictClass::inconclusive}};
  CHECK(made.line(CaveatCode::prior_matters).empty());
  made.judgement.sensitivity.back().verdict_class = VerdictClass::susceptible;
  CHECK(made.line(CaveatCode::prior_matters) ==
        "warning: The verdict hangs on how far two counts of one animal are thought to differ by "
        "themselves: at twice the usual allowance it would be susceptible (70.0% to 96.0%).");
  made.judgement.sensitivity.front().verdict_class = VerdictClass::resistant;
  CHECK(made.line(CaveatCode::prior_matters)
            .ends_with("by themselves: at half the usual allowance it would be resistant (70.0% to "
                       "96.0%); at twice the usual allowance it would be susceptible (70.0% to "
                       "96.0%)."));
  made.evidence.design = Design::two_group;
  made.evidence.control = made.evidence.before;
  CHECK(made.line(CaveatCode::prior_matters)
            .starts_with("warning: The verdict hangs on how far animals of one group are "));
}

TEST_CASE(
    "One animal is blamed from five eggs after treatment and from more than half of them on") {
  const auto blamed = [](const std::vector<std::uint32_t>& after) {
    return MadeResult({30, 40, 50}, after).line(CaveatCode::one_animal);
  };
  CHECK(blamed({4, 0, 0}).empty());
  CHECK(blamed({0, 5, 0}) == "warning: Animal 2 alone carried 100% of the eggs after treatment; "
                             "check that it was weighed and dosed properly before blaming the "
                             "drench.");
  CHECK(blamed({3, 2, 1}).empty());
  CHECK(blamed({1, 2, 4}).starts_with("warning: Animal 3 alone carried 57% of"));
  // One that was left out of the comparison carries nothing in it; a control's of the same tag was
  // not of this group.
  MadeResult made({30, 40, 50}, {1, 2, 6});
  made.evidence.dropped = {{"3", "without a reason", Role::control}};
  CHECK(made.line(CaveatCode::one_animal).starts_with("warning: Animal 3 alone carried 67% of"));
  made.evidence.dropped = {{"3", "without a reason", Role::treated}};
  CHECK(made.line(CaveatCode::one_animal).starts_with("warning: Animal 2 alone carried 67% of"));
}

TEST_CASE("The fall itself is told beside the threshold that its interval crosses") {
  MadeResult made({40, 40, 20}, {5, 4, 1}); // 1 - 10/100
  made.verdict().reduction = 0.9;
  CHECK(made.line(CaveatCode::point_and_interval) ==
        "warning: The fall itself, 90.0%, is above the lower threshold of 90%, but the interval "
        "reaches down to 50.0%: this trial cannot rule out a poor drench.");
  made.verdict().reduction = 0.89;
  CHECK(made.line(CaveatCode::point_and_interval) ==
        "warning: The fall itself, 89.0%, is below the lower threshold of 90%, but the interval "
        "reaches up to 99.0%: this trial cannot rule out a good drench.");
  made.verdict().verdict_class = VerdictClass::resistant;
  CHECK(made.line(CaveatCode::point_and_interval).empty());
}

TEST_CASE("A count is too coarse where one egg takes the fall below what is expected") {
  // One egg of 20 makes 95%, and one of 19 94.7%.
  CHECK(MadeResult({10, 10}, {1, 0}).line(CaveatCode::detection_limit) ==
        "note: One egg seen after treatment stands for 15 EPG; a single one in the whole group "
        "makes the fall 95.0%, so a fall above that cannot be told from 100%.");
  CHECK(MadeResult({10, 9}, {1, 0}).line(CaveatCode::detection_limit) ==
        "serious: The count is too coarse: one egg seen after treatment stands for 15 EPG, and a "
        "single one in the whole group would make the fall 94.7%, below the expected 95%.");
  // Ten eggs and more after treatment, of a drench that failed, leave nothing to one.
  const auto failed = [](std::uint32_t eggs, VerdictClass verdict_class) {
    MadeResult made({10, 9}, {eggs, 0});
    made.verdict().verdict_class = verdict_class;
    return made.line(CaveatCode::detection_limit).substr(0, 4);
  };
  CHECK(failed(10, VerdictClass::resistant) == "note");
  CHECK(failed(9, VerdictClass::resistant) == "seri");
  CHECK(failed(10, VerdictClass::inconclusive) == "seri");
}

TEST_CASE("Animals without an egg before treatment are named, if they are compared") {
  MadeResult made({30, 0, 50, 0}, {1, 0, 0, 0});
  CHECK(made.line(CaveatCode::zero_before) ==
        "note: 2 of 4 animals had no egg before treatment and so cannot show a fall: 2 and 4.");
  made.evidence.dropped = {{"4", "without a reason", Role::treated}};
  CHECK(made.line(CaveatCode::zero_before).ends_with("cannot show a fall: 2."));
  made.evidence.control = made.evidence.before;
  made.evidence.design = Design::two_group;
  CHECK(made.line(CaveatCode::zero_before).empty());
}

TEST_CASE("A change of untreated animals is told from a quarter on, if it is not taken out") {
  MadeResult made({40, 40, 40}, {2, 1, 1});
  CHECK(made.line(CaveatCode::season_unseen)
            .starts_with("warning: No animal was left untreated: had the season alone"));
  made.with_control = true;
  CHECK(made.line(CaveatCode::season_unseen)
            .starts_with("warning: The untreated animals were not sampled twice on these days"));
  CHECK(made.line(CaveatCode::control_changed).empty());
  made.control.reduction = 0.25;
  CHECK(made.line(CaveatCode::control_changed) ==
        "warning: Untreated, the control group's counts fell by 25.0%, though not on these days.");
  made.control.reduction = -0.25;
  CHECK(made.line(CaveatCode::control_changed) ==
        "warning: Untreated, the control group's counts rose by 25.0%, though not on these days.");
  made.control.reduction = 0.24;
  CHECK(made.line(CaveatCode::control_changed).empty());
  made.control.reduction = 0.5;
  made.judgement.own_fall = OwnFall{};
  CHECK(made.line(CaveatCode::control_changed).empty());
  MadeResult none({40, 40, 40}, {0, 0, 0}); // 100% whatever the control did
  none.with_control = true;
  none.control.reduction = 0.5;
  CHECK(none.line(CaveatCode::control_changed).empty());
}

TEST_CASE("A rise is asked about beyond a half, from twenty eggs on, unless the untreated rose") {
  const auto rose = [](const std::vector<std::uint32_t>& before,
                       const std::vector<std::uint32_t>& after,
                       std::optional<double> of_control = std::nullopt) {
    MadeResult made(before, after);
    made.with_control = of_control.has_value();
    made.control.reduction = of_control;
    return made.line(CaveatCode::counts_rose);
  };
  CHECK(rose({10, 10}, {15, 15}).empty());
  CHECK(rose({10, 10}, {16, 15}) ==
        "serious: Counts rose by 55% after treatment: check first that before and after are not "
        "swapped, in the table or at the bench.");
  CHECK_FALSE(rose({5, 5}, {10, 10}).empty());
  CHECK(rose({5, 5}, {10, 9}).empty()); // 19 eggs
  // Twice as many, of which half a rise of the untreated takes the point away.
  CHECK(rose({10, 10}, {20, 20}, -0.5).empty());
  CHECK(rose({10, 10}, {20, 20}, -0.49)
            .find("100% after treatment, and those of untreated animals "
                  "did not") != std::string::npos);
  MadeResult doubted({10, 10}, {20, 20}); // of which a bar speaks
  doubted.field.units = UnitDoubt{};
  CHECK(doubted.line(CaveatCode::counts_rose).empty());
}

TEST_CASE("Factors that differ are told, whether between occasions or within one") {
  MadeResult made({10, 10}, {1, 0});
  CHECK(made.line(CaveatCode::factors_differ).empty());
  for (Animal& animal : made.evidence.group.animals)
    animal.after->factor = MultiplicationFactor(5);
  made.count();
  CHECK(made.line(CaveatCode::factors_differ) ==
        "note: One egg stands for 15 EPG before treatment and 5 after; the results allow for it.");
  made.evidence.group.animals.front().after->factor = MultiplicationFactor(15);
  made.count();
  const std::string not_all = "note: Not all animals were counted with the same factor; the "
                              "results allow for it.";
  CHECK(made.line(CaveatCode::factors_differ) == not_all);
  for (Animal& animal : made.evidence.group.animals)
    animal.after->factor = MultiplicationFactor(15);
  made.evidence.group.animals.front().before->factor = MultiplicationFactor(5);
  made.count();
  CHECK(made.line(CaveatCode::factors_differ) == not_all);
}

TEST_CASE("Animals left out are a warning if they are more than a third") {
  MadeResult made({10, 10, 10, 10, 10, 10}, {1, 0, 0, 0, 0, 0});
  CHECK(made.line(CaveatCode::dropped).empty());
  made.evidence.dropped = {{"1", "lost", Role::treated}, {"2", "sold", Role::treated}};
  CHECK(made.line(CaveatCode::dropped) ==
        "note: Left out of this comparison: 1 (lost) and 2 (sold).");
  made.evidence.dropped.push_back({"3", "dead", Role::treated});
  CHECK(made.line(CaveatCode::dropped) ==
        "warning: Left out of this comparison: 1 (lost), 2 (sold) and 3 (dead).");
}

TEST_CASE("Several groups are one too many chances to err, where the rule has an interval") {
  MadeResult made({10, 10}, {1, 0});
  CHECK(made.line(CaveatCode::several_groups).empty());
  made.treated_groups = 3;
  CHECK(made.line(CaveatCode::several_groups) == // 1 - 0.9^3 = 27.1%
        "note: 3 groups are judged at once; with 90% intervals the chance that at least one misses "
        "its truth is about 27%, if each is right that often.");
  made.criteria.rule = Rule::reduction_alone;
  CHECK(made.line(CaveatCode::several_groups).empty());
}
