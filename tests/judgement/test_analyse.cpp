#include "eggfall/judgement/analyse.hpp"

#include "eggfall/trial/read_trials.hpp"
#include "support/invented_trials.hpp"
#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

namespace {

Trial trial_of(std::vector<Group> groups) {
  return {"t", std::move(groups)};
}

GroupAnalysis only_group(const Trial& trial, const AnalysisSettings& settings = {}) {
  const TrialAnalysis result = analyse(trial, published_cut_offs(), settings);
  REQUIRE(result.groups.size() == 1);
  return result.groups.front();
}

const Interval& interval_by(const GroupAnalysis& group, Method method) {
  const auto found = std::ranges::find(group.evidence.intervals, method, &Interval::method);
  REQUIRE(found != group.evidence.intervals.end());
  return *found;
}

Group as_control(Group group) {
  group.role = Role::control;
  return group;
}

} // namespace

TEST_CASE("Trial A from counts to verdicts") {
  const GroupAnalysis group =
      only_group(trial_of({support::group("T", trial_a::before, trial_a::after),
                           as_control(support::group("C", {}, trial_a::control))}));
  CHECK(group.evidence.design == Design::paired);
  CHECK_THAT(*group.evidence.reduction, support::close_to(0.9574468085106383));
  CHECK(group.evidence.before.eggs == 188);
  CHECK(group.evidence.after.eggs == 8);
  SECTION("the 1992 verdict compares with the control after treatment, at 95%") {
    const auto verdict =
        std::ranges::find(group.judgement.verdicts, "waavp-1992", &Verdict::criteria);
    REQUIRE(verdict != group.judgement.verdicts.end());
    // R 4.2.2, tests/published/reference.R
    CHECK_THAT(100 * *verdict->interval->lower, support::close_to(89.072963168887));
    CHECK(verdict->verdict_class == VerdictClass::suspected);
  }
  SECTION("and without a control, with the counts before") {
    const GroupAnalysis alone =
        only_group(trial_of({support::group("T", trial_a::before, trial_a::after)}));
    const auto verdict =
        std::ranges::find(alone.judgement.verdicts, "waavp-1992", &Verdict::criteria);
    CHECK(verdict->interval->usable());
    CHECK(verdict->reason.starts_with("the fall, 95.7%, is at or above the cut-off 95%"));
  }
}

TEST_CASE("The order of the animals is irrelevant to every closed form") {
  Group group = support::group("T", trial_a::before, trial_a::after);
  const GroupAnalysis straight = only_group(trial_of({group}));
  std::ranges::reverse(group.animals);
  const GroupAnalysis reversed = only_group(trial_of({group}));
  CHECK_THAT(*reversed.evidence.reduction,
             support::close_to(*straight.evidence.reduction, support::other_order));
  for (const Method method : {Method::paired_log_ratio, Method::log_ratio_1992,
                              Method::egg_totals_exact, Method::egg_totals_jeffreys})
    CHECK_THAT(*interval_by(reversed, method).lower,
               support::close_to(*interval_by(straight, method).lower, support::other_order));
  // No resamples are drawn for the bootstrap: its law is found by steps, as test_bootstrap has it.
  CHECK_THAT(
      *interval_by(reversed, Method::bootstrap_bca).lower,
      support::close_to(*interval_by(straight, Method::bootstrap_bca).lower, support::many_steps));
}

TEST_CASE("Scaling both factors changes EPG and nothing else") {
  const GroupAnalysis one =
      only_group(trial_of({support::group("T", trial_a::before, trial_a::after, 1, 1)}));
  const GroupAnalysis fifty =
      only_group(trial_of({support::group("T", trial_a::before, trial_a::after, 50, 50)}));
  CHECK_THAT(*fifty.evidence.before.mean_epg,
             support::close_to(50 * *one.evidence.before.mean_epg, support::other_order));
  CHECK_THAT(*fifty.evidence.reduction,
             support::close_to(*one.evidence.reduction, support::other_order));
  REQUIRE(one.evidence.intervals.size() == fifty.evidence.intervals.size());
  for (std::size_t i = 0; i < one.evidence.intervals.size(); ++i) {
    CHECK_THAT(*fifty.evidence.intervals[i].lower,
               support::close_to(*one.evidence.intervals[i].lower, support::many_steps));
    CHECK_THAT(*fifty.evidence.intervals[i].upper,
               support::close_to(*one.evidence.intervals[i].upper, support::many_steps));
  }
}

TEST_CASE("A 95% interval holds the 90% interval, by every method and design") {
  const Trial trial =
      trial_of({support::group("T", trial_a::before, trial_a::after, 15, 5),
                as_control(support::group("C", trial_a::before, trial_a::control, 15, 15))});
  AnalysisSettings wide;
  wide.level = 0.95;
  for (const Design design : all_designs) {
    AnalysisSettings narrow;
    narrow.design = wide.design = design;
    const GroupAnalysis at_90 = only_group(trial, narrow);
    const GroupAnalysis at_95 = only_group(trial, wide);
    REQUIRE(at_90.evidence.intervals.size() == at_95.evidence.intervals.size());
    std::size_t usable = 0;
    for (std::size_t i = 0; i < at_90.evidence.intervals.size(); ++i) {
      INFO(to_string(design) << ' ' << to_string(at_90.evidence.intervals[i].method));
      REQUIRE(at_90.evidence.intervals[i].usable() == at_95.evidence.intervals[i].usable());
      if (!at_90.evidence.intervals[i].usable())
        continue;
      ++usable;
      CHECK(*at_95.evidence.intervals[i].lower <= *at_90.evidence.intervals[i].lower);
      CHECK(*at_95.evidence.intervals[i].upper >= *at_90.evidence.intervals[i].upper);
      CHECK(*at_90.evidence.intervals[i].lower <= *at_90.evidence.reduction);
      CHECK(*at_90.evidence.intervals[i].upper >= *at_90.evidence.reduction);
    }
    CHECK(usable >= 3);
  }
}

TEST_CASE("A rise is a negative reduction, never clipped") {
  const GroupAnalysis group =
      only_group(trial_of({support::group("T", {10, 12, 8, 9}, {20, 30, 11, 25})}));
  CHECK_THAT(*group.evidence.reduction, support::close_to(1 - 86.0 / 39));
  CHECK(*group.evidence.headline.lower < -1);
}

TEST_CASE("All zero after treatment: no zero-width interval is called usable") {
  const GroupAnalysis group = only_group(
      trial_of({support::group("T", trial_a::before, std::vector<std::uint32_t>(12, 0))}));
  CHECK(*group.evidence.reduction == 1);
  std::size_t usable = 0;
  for (const Interval& interval : group.evidence.intervals) {
    INFO(to_string(interval.method));
    if (interval.usable())
      CHECK(*interval.lower < *interval.upper);
    else
      CHECK_FALSE(interval.why_not.empty());
    usable += interval.usable() ? 1 : 0;
  }
  // The posterior, its guard and the pooled counts have limits; resamples and logarithms have none.
  CHECK(usable >= 4);
  CHECK(usable < group.evidence.intervals.size());
  CHECK(group.evidence.headline.usable());
}

TEST_CASE("A group that cannot be compared says so and stays in the result") {
  const GroupAnalysis none = only_group(trial_of({support::group("T", {}, {1, 2, 3})}));
  CHECK_FALSE(none.evidence.design);
  CHECK_FALSE(none.evidence.reduction);
  CHECK(none.caveats.front().code == CaveatCode::no_estimate);
  AnalysisSettings controlled;
  controlled.design = Design::controlled;
  CHECK(only_group(trial_of({support::group("T", {9, 9}, {1, 2})}), controlled)
            .caveats.front()
            .text ==
        "The fall cannot be worked out: the controlled design that was asked for lacks a control "
        "group, or animals with the samples it needs.");
  const GroupAnalysis zero = only_group(trial_of({support::group("T", {0, 0, 0}, {1, 0, 0})}));
  CHECK_FALSE(zero.evidence.reduction);
  CHECK(zero.caveats.front().text ==
        "The fall cannot be worked out: no egg was counted before treatment.");
  for (const Verdict& verdict : zero.judgement.verdicts)
    CHECK(verdict.verdict_class == VerdictClass::not_applicable);
}

TEST_CASE("A result does not depend on the other groups of the table") {
  const Group group = support::group("T", trial_a::before, trial_a::after);
  const Group other = support::group("U", trial_a::control, trial_a::before);
  const GroupAnalysis alone = only_group(trial_of({group}));
  const TrialAnalysis both = analyse(trial_of({other, group}), published_cut_offs(), {});
  CHECK(interval_by(both.groups[1], Method::bootstrap_bca).lower ==
        interval_by(alone, Method::bootstrap_bca).lower);
}

TEST_CASE("The criteria asked for come first, and unknown ones are refused") {
  AnalysisSettings settings;
  settings.criteria = "waavp-1992";
  const Trial trial = trial_of({support::group("T", trial_a::before, trial_a::after)});
  CHECK(only_group(trial, settings).judgement.first_verdict().criteria == "waavp-1992");
  settings.criteria = "by-eye";
  CHECK(support::input_error([&] { analyse(trial, published_cut_offs(), settings); }) ==
        "criteria: found \"by-eye\"; expected one of waavp-2023-clinical, waavp-2023-research, "
        "waavp-1992, waavp-2006");
  settings = {};
  settings.level = 1.2;
  CHECK_THROWS_AS(analyse(trial, published_cut_offs(), settings), InputError);
}

TEST_CASE("A table of 1,000 invented trials of 15 animals is analysed in one call") {
  const TrialTable table = read_trials(invented_trials(1'000, 15, 1), "table", {});
  REQUIRE(table.trials.size() == 1'000);
  AnalysisSettings settings;
  settings.simulations = 1;
  std::size_t usable = 0;
  for (const Trial& trial : table.trials) {
    const GroupAnalysis group = only_group(trial, settings);
    usable += group.evidence.headline.usable() ? 1 : 0;
    for (const Interval& interval : group.evidence.intervals)
      CHECK((interval.usable() || !interval.why_not.empty()));
  }
  CHECK(usable == 1'000);
}

TEST_CASE("Undosed animals do not make a failed drench susceptible") {
  // Found by review: 12 of 14 animals cured, 2 untouched; the posterior alone says 97.6 to 99.9%.
  const Trial trial =
      trial_of({support::group("T", {40, 25, 60, 33, 18, 52, 44, 29, 61, 37, 22, 48, 35, 50},
                               {0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 40, 55}, 15, 15)});
  const GroupAnalysis group = only_group(trial);
  CHECK(group.evidence.headline.method == Method::guarded_posterior);
  CHECK(*group.evidence.headline.lower < *group.evidence.reduction);
  CHECK(*group.evidence.headline.upper > *group.evidence.reduction);
  CHECK(group.judgement.first_verdict().verdict_class == VerdictClass::inconclusive);
  CHECK(group.evidence.disagreement.fall_outside_posterior);
  CHECK(group.caveats.front().code == CaveatCode::animals_differ);
  // The chances are those of all witnesses, and say no more than the verdict does.
  REQUIRE(group.judgement.probabilities);
  CHECK(group.judgement.probabilities->below_lower > 0.05);
}

TEST_CASE("A rise in one animal alone is not called susceptible") {
  std::vector<std::uint32_t> after(15, 0);
  after.back() = 100'000;
  const GroupAnalysis group = only_group(
      trial_of({support::group("T", std::vector<std::uint32_t>(15, 10), after, 15, 15)}));
  CHECK(group.judgement.first_verdict().verdict_class == VerdictClass::inconclusive);
}

TEST_CASE("The guarded interval holds both the posterior's and the bootstrap's") {
  const GroupAnalysis group =
      only_group(trial_of({support::group("T", trial_a::before, trial_a::after)}));
  for (const Method method : {Method::paired_posterior, Method::bootstrap_bca}) {
    CHECK(*group.evidence.headline.lower <= *interval_by(group, method).lower);
    CHECK(*group.evidence.headline.upper >= *interval_by(group, method).upper);
  }
  CHECK(group.judgement.probabilities);
  CHECK_THAT(group.judgement.probabilities->below_lower + group.judgement.probabilities->between +
                 group.judgement.probabilities->at_least_expected,
             Catch::Matchers::WithinAbs(1, support::other_order));
  CHECK(group.judgement.sensitivity.size() == 2);
}

TEST_CASE("A group of absurd spread does not take the others with it") {
  Group absurd = support::group("X", {1, 1'000'000}, {1'000'000, 1}, 0.001, 100'000);
  absurd.animals[1].before->factor = MultiplicationFactor(100'000);
  absurd.animals[1].after->factor = MultiplicationFactor(0.001);
  const Group good = support::group("T", trial_a::before, trial_a::after);
  const TrialAnalysis result = analyse(trial_of({absurd, good}), published_cut_offs(), {});
  CHECK(result.groups[1].evidence.headline.usable());
  for (const Interval& interval : result.groups[0].evidence.intervals)
    CHECK((interval.usable() || !interval.why_not.empty()));
}

TEST_CASE("One animal with many eggs is not judged by the luck of counting alone") {
  const GroupAnalysis group =
      only_group(trial_of({support::group("T", {1'000'000}, {1'000'000}, 15, 15)}));
  CHECK(group.evidence.headline.method != Method::egg_totals_jeffreys);
  const auto width = [](const Interval& interval) { return *interval.upper - *interval.lower; };
  CHECK(width(group.evidence.headline) >
        100 * width(interval_by(group, Method::egg_totals_jeffreys)));
}

TEST_CASE("Larger trials are simulated by default for a farm, not for a region") {
  Group treated;
  treated.name = "white";
  Group untreated = as_control(treated);
  CHECK(treated_groups({trial_of({treated, untreated}), trial_of({treated})}) == 2);
  CHECK(default_simulations(1) == AnalysisSettings().simulations);
  CHECK(default_simulations(most_groups_simulated) == AnalysisSettings().simulations);
  CHECK(default_simulations(most_groups_simulated + 1) == 0);
}
