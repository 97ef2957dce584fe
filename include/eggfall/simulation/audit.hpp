#pragma once

#include "eggfall/base/error.hpp"
#include "eggfall/base/shard.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/paired_posterior.hpp"
#include "eggfall/statistics/posterior.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// An invented farm of an audit: a truth, and the design that is to find it out. Grid files and
/// what an audit prints call it a cell.
struct AuditFarm {
  Design design = Design::paired;
  CountModel model;
};

/// All that tells a farm from another, in one line: names its random streams.
std::string farm_key(const AuditFarm& farm);

/// @throws InputError as check() of the model, and if the design needs a control that the model
///   lacks.
void check(const AuditFarm& farm);

/// A criterion with the row of thresholds to judge by.
struct AuditCriterion {
  std::string name;  ///< Criteria::name.
  std::string title; ///< Criteria::title.
  Rule rule = Rule::two_one_sided;
  double level = 0.90;          ///< Of the interval judged; unused by Rule::reduction_alone.
  std::optional<Method> method; ///< The interval that the criterion itself demands.
  CutOff cut_off;

  bool operator==(const AuditCriterion&) const = default;
};

/// The criteria that have a row for such a group (only its host, worm and classes are used).
std::vector<AuditCriterion> audit_criteria(const std::vector<Criteria>& criteria,
                                           const Group& group);

struct AuditSettings {
  static constexpr std::size_t default_trials = 2'000;

  static constexpr std::size_t most_trials = 10'000'000;
  static constexpr ValueRange prior_scales{0.05, 20}; ///< Times the usual scale of the variation.

  std::size_t trials = default_trials; ///< Trials of each farm; 1 to `most_trials`.
  std::uint64_t seed = 1;
  double level = 0.90; ///< Confidence level of the intervals whose coverage is counted.
  PosteriorPriors priors;
  PairedQuadrature quadrature;
  std::vector<Method> methods; ///< Those audited, where the design has them; empty: all.
  std::vector<AuditCriterion> criteria;

  bool operator==(const AuditSettings&) const = default;
};

/// The methods audited in a design, in the order of methods_for().
std::vector<Method> audited_methods(const AuditSettings& settings, Design design);

/// Those audited in a farm: where one worm is told by its larvae, the posteriors alone.
std::vector<Method> audited_methods(const AuditSettings& settings, const AuditFarm& farm);

/// What an interval method made of a farm's trials. All tallies are whole numbers, so that sums
/// do not depend on their order.
struct MethodTally {
  Method method = Method::guarded_posterior;
  /// Trials whose interval held the truth (outcome()); the next three likewise.
  std::uint64_t held = 0;
  std::uint64_t truth_above = 0;
  std::uint64_t truth_below = 0;
  std::uint64_t unusable = 0;
  /// Sum of upper - lower in millionths of a point of percent, a limit below -100% taken as
  /// -100%.
  std::uint64_t width = 0;
  std::vector<VerdictTally> verdicts; ///< By criterion.

  bool operator==(const MethodTally&) const = default;
};

struct FarmTally {
  std::uint64_t trials = 0;
  std::uint64_t without_estimate = 0; ///< Trials without an egg to compare with.
  std::uint64_t none_after = 0;       ///< Trials with a reduction of 100%.
  std::int64_t reduction = 0; ///< Sum of the reductions, in the unit and with the cut of `width`.
  std::vector<MethodTally> methods; ///< audited_methods().

  bool operator==(const FarmTally&) const = default;
};

/// Adds `more`, made with the same settings and farm.
/// @throws CalculationError if the two differ in their methods or criteria; `tally` is then as it
///   was.
void add(FarmTally& tally, const FarmTally& more);

/// Trials first ... first + trials - 1 of a farm. Trial t is simulated from the stream (seed,
/// farm_key(), t), so that the sum over any split of the trials is the same.
/// @throws InputError as check().
FarmTally audit_trials(const AuditFarm& farm, const AuditSettings& settings, std::size_t first,
                       std::size_t trials);

/// One trial of a farm, to be looked at.
struct AuditExample {
  std::optional<double> reduction; ///< Empty: no egg to compare with.
  std::vector<Interval> intervals; ///< By audited_methods(), at AuditSettings::level; none without
                                   ///< a reduction.
};

/// Trials 0 ... trials - 1 of a farm: those that audit_trials() counts first.
/// @throws InputError as audit_trials().
std::vector<AuditExample> audit_examples(const AuditFarm& farm, const AuditSettings& settings,
                                         std::size_t trials);

/// A piece of an audit's work: trials `first` to first + trials - 1 of one farm.
struct AuditTask {
  std::size_t farm = 0;
  std::size_t first = 0;
  std::size_t trials = 0;
};

/// The tasks of a shard; every task of an audit is in one of the `count` shards.
/// @throws InputError for more than 500,000,000 trials a shard.
std::vector<AuditTask> audit_tasks(std::size_t farms, const AuditSettings& settings, Shard shard);

struct AuditResult;

/// The next tasks of an audit that stops where it knows enough: 500 trials of each farm; then, of
/// the farms in which the share of some class has a standard error above 1/(2 sqrt(trials)) (the
/// most that a share of all AuditSettings::trials can have), as many more as that share p asks for,
/// 4 p (1 - p) trials in all; and so on. Empty: done. Each round is tallied before the next is
/// asked for, so that the result depends on nothing else.
std::vector<AuditTask> next_tasks(const AuditResult& result);

struct AuditedFarm {
  AuditFarm farm;
  FarmTally tally;
};

struct AuditResult {
  std::string version; ///< Of the program that made it.
  AuditSettings settings;
  Shard shard; ///< {1, 1}: the whole.
  std::vector<AuditedFarm> farms;
};

/// A result with every farm and no trial yet.
AuditResult empty_result(const std::vector<AuditFarm>& farms, const AuditSettings& settings,
                         Shard shard);

/// The sum of all shards of an audit, in any order: just what one run gives.
/// @throws InputError unless the parts are of one audit (version, settings, farms), each shard is
/// there
///   once, and every farm has all its trials.
AuditResult merged(const std::vector<AuditResult>& parts);

} // namespace eggfall
