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
