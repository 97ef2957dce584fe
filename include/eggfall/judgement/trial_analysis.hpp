#pragma once

#include "eggfall/judgement/advice.hpp"
#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/group_evidence.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/larger_trial.hpp"
#include "eggfall/statistics/combination.hpp"
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

/// One treated group, stage by stage: each is worked out from those before it, once.
struct GroupAnalysis {
  GroupEvidence evidence;
  FieldCheck field;
  Judgement judgement;
  std::vector<Caveat> caveats; ///< The most serious first.
  Advice advice;
};

/// What became of the untreated animals.
struct ControlAnalysis {
  Group group;
  SampleSummary before;
  SampleSummary after;
  std::size_t sampled_twice = 0;
  std::optional<double> reduction; ///< Of the animals sampled twice.
  /// What it tells of the season: the law of log(after/before) of untreated counts
  /// (docs/methods.md, "The season"); if any animal was sampled twice and had an egg before.
  std::optional<LogRatioDensity> season;
  std::vector<AnimalResult> animal_results;
  DayCheck days;
};

struct TrialAnalysis {
  std::string trial;
  std::vector<std::string> reading;  ///< As Trial::reading.
  std::vector<GroupAnalysis> groups; ///< Treated groups, in the table's order.
  std::optional<ControlAnalysis> control;
  std::optional<Ranking> ranking; ///< If there are two treated groups or more.
  std::vector<Combination> combinations;
};

/// Defaults and ranges of an analysis, for help texts and checks alike.
struct AnalysisSettings {
  static constexpr double default_level = 0.90;
  static constexpr std::uint64_t default_seed = 1;

  double level = default_level; ///< Of the intervals shown; each criterion uses its own.
  std::uint64_t seed = default_seed;
  std::size_t simulations = LargerTrialSettings().simulations; ///< For each larger trial; 0: none.
  PosteriorPriors priors;
  std::optional<Design> design; ///< Empty: preferred_design() of each group.
  bool units_confirmed = false; ///< The counts are eggs, though they look like EPG (UnitDoubt).
  std::string criteria;         ///< Name of the criteria shown first; empty: the first of all.
};

} // namespace eggfall
