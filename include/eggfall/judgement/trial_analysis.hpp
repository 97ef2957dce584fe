#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/dose_check.hpp"
#include "eggfall/judgement/larger_trial.hpp"
#include "eggfall/judgement/missing_after.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/statistics/combination.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/count_spread.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/ranking.hpp"
#include "eggfall/statistics/worm_share.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The counts of one set of animals, or pools of animals, on one occasion.
struct SampleSummary {
  std::size_t animals = 0; ///< Or pools.
  std::size_t animals_without_eggs = 0;
  std::uint64_t animals_mixed = 0; ///< Animals in all samples: more than `animals` if pooled.
  std::size_t pools = 0;           ///< Samples of more than one animal.
  std::uint32_t largest = 0;       ///< Animals in the largest of the samples.
  std::uint64_t eggs = 0;          ///< Eggs seen in all animals together.
  std::optional<double> mean_epg;  ///< Arithmetic mean over animals; empty without any.
  std::optional<MultiplicationFactor> factor; ///< If all share one.
  CountSpread spread;                         ///< Of eggs seen; only if all share one factor.
};

/// Whether a sample is of more than one animal.
inline bool is_pooled(const SampleSummary& sample) {
  return sample.pools > 0;
}

SampleSummary summarise(const std::vector<Count>& counts);

/// How much a caveat may change what one should think of the result.
enum class Severity { serious, warning, note };

std::string_view to_string(Severity severity);

/// A weakness of this trial. Codes are stable (docs/methods.md lists them).
struct Caveat {
  std::string code;
  std::string text; ///< One sentence or two, with this trial's numbers.
  Severity severity = Severity::note;
};

/// One line of the per-animal table.
struct AnimalResult {
  std::string animal;
  std::optional<Count> before;
  std::optional<Count> after;
  std::optional<double> reduction; ///< 1 - after/before in EPG; empty if before is 0 or missing.
};

/// The reduction by one design, with every interval it allows.
struct DesignEstimate {
  Design design = Design::paired;
  std::optional<double> reduction;
  Interval headline;
  std::vector<Interval> intervals;
};

/// Where the true efficacy lies by the posterior, against the thresholds of the verdict shown
/// first. The four are proportions; the last three add up to 1.
struct EfficacyProbabilities {
  double below_expected = 0;
  double below_lower = 0;
  double between = 0; ///< At or above the lower threshold, below the expected efficacy.
  double at_least_expected = 0;
};

/// The interval under another prior scale of the variation, and the class it gives.
struct PriorSensitivity {
  double scale = 1; ///< Times the default.
  Interval interval;
  VerdictClass verdict_class = VerdictClass::not_applicable;
};

/// How a worm was told from the others.
enum class WormSource {
  larval_culture,  ///< By the larvae of the group's mixed faeces; see WormEvidence.
  eggs_told_apart, ///< By its eggs on the slide, counted in columns of their own.
};

std::string_view to_string(WormSource source);

/// The reduction of one worm in a group.
struct WormAnalysis {
  std::string worm;
  WormSource source = WormSource::larval_culture;
  Design design = Design::paired; ///< That of its group: "before" is where_compared() it.
  /// In the cultures compared, one a side: of the treated group, or of the control below the bar.
  std::optional<WormShare> larvae_before;
  std::optional<WormShare> larvae_after;
  /// Of eggs told apart.
  std::optional<std::uint64_t> eggs_before;
  std::optional<std::uint64_t> eggs_after;
  std::optional<double> mean_epg_before;
  std::optional<double> mean_epg_after;
  std::optional<double> reduction;
  Interval headline;
  std::vector<Interval> intervals;
  std::vector<Verdict> verdicts; ///< The one asked for first.
  std::vector<Caveat> caveats;   ///< The most serious first.
};

struct GroupAnalysis {
  Group group;                          ///< As read; its host may have come from an option.
  std::optional<Design> design;         ///< Empty: nothing could be compared.
  std::size_t animals = 0;              ///< Treated animals in the comparison.
  SampleSummary before;                 ///< Treated animals: those compared if the design pairs
  SampleSummary after;                  ///< them, or else all that were sampled.
  std::optional<SampleSummary> control; ///< The control counts compared with, unless paired.
  std::optional<double> reduction;
  Interval headline;
  std::vector<Interval> intervals;
  /// The lower limit, by the method and at the level of the first verdict, had no egg been
  /// found after treatment: the most that these counts before could have shown.
  std::optional<double> best_lower;
  std::vector<Verdict> verdicts; ///< The one asked for first.
  /// Empty without a posterior behind the first verdict, or if `outside_posterior`.
  std::optional<EfficacyProbabilities> probabilities;
  bool outside_posterior = false; ///< See Evidence::outside_posterior().
  /// The posterior of log(rho), efficacy = 1 - rho; empty where there is none that fits.
  std::optional<LogRatioDensity> density;
  std::vector<PriorSensitivity> sensitivity; ///< At half and double the scale.
  std::vector<NextStepOutcome> next_steps;   ///< If the first verdict is inconclusive.
  std::vector<Caveat> caveats;               ///< The most serious first.
  std::vector<DroppedAnimal> dropped;
  std::vector<WormAnalysis> worms; ///< By larval culture, then by eggs told apart.
  std::vector<DesignEstimate> other_designs;
  std::vector<AnimalResult> animal_results;
  DoseCheck doses;
  DayCheck days;
  std::optional<MissingAfter> missing_after; ///< If the design pairs, and any animal is.
};

/// The counts that those after treatment are compared with: the control's where the design takes
/// them, or else those before treatment.
const SampleSummary& compared_with(const GroupAnalysis& analysis);

/// What became of the untreated animals.
struct ControlAnalysis {
  Group group;
  SampleSummary before;
  SampleSummary after;
  std::size_t sampled_twice = 0;
  std::optional<double> reduction; ///< Of the animals sampled twice.
  std::vector<AnimalResult> animal_results;
  DayCheck days;
};

struct TrialAnalysis {
  std::string trial;
  std::vector<GroupAnalysis> groups; ///< Treated groups, in the table's order.
  std::optional<ControlAnalysis> control;
  std::optional<Ranking> ranking; ///< If there are two treated groups or more.
  std::vector<Combination> combinations;
};

/// Defaults and ranges of an analysis, for help texts and checks alike.
struct AnalysisSettings {
  static constexpr double default_level = 0.90;
  static constexpr std::size_t default_resamples = 10'000;
  static constexpr std::uint64_t default_seed = 1;

  double level = default_level; ///< Of the intervals shown; each criterion uses its own.
  std::size_t resamples = default_resamples;
  std::uint64_t seed = default_seed;
  std::size_t simulations = WhatNextSettings().simulations; ///< For each next step; 0: none.
  PosteriorPriors priors;
  std::optional<Design> design; ///< Empty: preferred_design() of each group.
  std::string criteria;         ///< Name of the criteria shown first; empty: the first of all.
};

} // namespace eggfall
