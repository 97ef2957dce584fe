#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/group_evidence.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/larger_trial.hpp"
#include "eggfall/statistics/combination.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/ranking.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// A group's animals on one day after treatment, beside the same animals before it: numbers without
/// a class.
struct VisitFall {
  /// Days from treatment; empty for the test's own sample if its day is not known.
  std::optional<int> day;
  bool is_test = false;    ///< The sample that the reduction test was judged on.
  std::size_t animals = 0; ///< Animals or pools sampled before treatment and now: those compared.
  std::size_t missing = 0; ///< Animals sampled before treatment, and not now.
  std::size_t without_before = 0;    ///< Animals sampled now, and not before treatment.
  std::optional<double> mean_before; ///< Mean EPG of the animals compared; empty if there are none.
  std::optional<double> mean_epg;
  std::optional<double> reduction; ///< 1 - mean_epg/mean_before.
  Interval interval;               ///< Evidence::headline() of the paired design.
  std::optional<GuardedLaw> law;   ///< Of log(1 - true fall).
};

/// Weeks from treatment until eggs come back, while a drench still works.
struct ExpectedWeeks {
  int first = 0; ///< Eggs that come back before this week come back early.
  int last = 0;
  std::string known_for; ///< The substance or class that the weeks are known for: "ivermectin".
  Citation citation;
};

/// What the visits tell of an egg reappearance period beside the weeks expected.
enum class ReappearanceOutcome {
  not_worked_out, ///< EggReappearance::why_not says why.
  shorter,        ///< The chance of a period shorter than expected is (1 + level)/2 or more.
  not_shorter,    ///< That chance is (1 - level)/2 or less.
  cannot_tell,    ///< The chance lies between the two.
  ends_too_early, ///< No visit is late enough to tell.
};

/// Chances of one visit later than the test's own sample.
struct ReappearanceChance {
  int day = 0;
  double below = 0; ///< The chance that the true fall is below the threshold on this day.
  /// The chance that it was so on this day or an earlier one (see EggReappearance).
  double back_by = 0;
};

/// How long a drench kept strongyle eggs away: never a reduction test, and no class hangs on it.
///
/// Eggs are back on the first visit after the test's own with a fall below the threshold. Taken for
/// granted: the true fall only wears off, so that eggs once back stay back. Then the chance that
/// they were back by a visit is at least the greatest that any visit up to it gives, and that is
/// `back_by`; with falls that rise again the chance would be greater.
struct EggReappearance {
  ReappearanceOutcome outcome = ReappearanceOutcome::not_worked_out;
  std::string why_not; ///< Why it was not worked out; empty if it was.
  double threshold = 0;
  std::string definition; ///< What "back" means, in words.
  Citation definition_citation;
  std::optional<ExpectedWeeks> expected; ///< Empty if nothing is known of this drench.
  double level = 0; ///< Confidence level of the outcome, the same as that of the intervals shown.
  std::vector<ReappearanceChance> chances;
  std::optional<int> last_day_clear; ///< Last visit up to which every fall seen was at or above the
                                     ///< threshold; the test's own day if none was.
  std::optional<int> first_day_back; ///< First visit with a fall seen below it.
  /// Bounds of the chance that eggs were back before expected->first: back_by of the last visit
  /// before that week, and of the first that is at most a week before it or later.
  std::optional<double> shorter_at_least;
  std::optional<double> shorter_at_most; ///< Empty if no visit is late enough.
};

/// What to do, in plain words. It supports, and does not replace, a veterinarian registered where
/// the animals are.
struct Advice {
  Wording next_step; ///< What follows from the standing, in one sentence or several.
};

/// The visits of a group, if it was sampled more often than once after treatment.
struct VisitCourse {
  std::vector<VisitFall> visits;               ///< In the order of their days.
  std::optional<EggReappearance> reappearance; ///< Worked out for horses alone.
};

/// One treated group, stage by stage: each is worked out from those before it, once.
struct GroupAnalysis {
  GroupEvidence evidence;
  FieldCheck field;
  Judgement judgement;
  std::vector<Caveat> caveats; ///< The most serious first.
  Advice advice;
  VisitCourse course = {}; ///< Numbers beside the test; of the other stages the advice alone looks.
};

/// What became of the untreated animals.
struct ControlAnalysis {
  Group group;
  SampleSummary before;
  SampleSummary after;
  std::size_t sampled_twice = 0;
  std::optional<double> reduction; ///< The observed fall of the animals sampled twice.
  /// What the control tells of the season: the law of log(after/before) of untreated counts
  /// (docs/methods.md, "The season"). It is there if any animal was sampled twice and had an egg
  /// before.
  std::optional<LogRatioDensity> season;
  std::vector<AnimalResult> animal_results;
  DayCheck days;
  std::vector<VisitFall> visits = {}; ///< As VisitCourse::visits.
};

struct TrialAnalysis {
  std::string trial;
  std::vector<std::string> reading;  ///< As Trial::reading.
  std::vector<GroupAnalysis> groups; ///< Treated groups, in the table's order.
  /// If its samples are of visits, those on the day of the first treated group's test.
  std::optional<ControlAnalysis> control;
  std::optional<Ranking> ranking; ///< There if two groups or more were treated.
  std::vector<Combination> combinations;
};

/// Defaults and ranges of an analysis, for help texts and checks alike.
struct AnalysisSettings {
  static constexpr double default_level = 0.90;
  static constexpr std::uint64_t default_seed = 1;
  static constexpr ValueRange levels_percent =
      Criteria::levels_percent; ///< That a user may ask for.
  static constexpr std::size_t most_simulations = 100'000;

  double level = default_level; ///< Of the intervals shown; each criterion uses its own.
  std::uint64_t seed = default_seed;
  std::size_t simulations = LargerTrialSettings().simulations; ///< For each larger trial; 0: none.
  PosteriorPriors priors;
  std::optional<Design> design; ///< Empty: preferred_design() of each group.
  bool units_confirmed = false; ///< The counts are eggs, though they look like EPG (UnitDoubt).
  std::string criteria;         ///< Name of the criteria shown first; empty: the first of all.
};

} // namespace eggfall
