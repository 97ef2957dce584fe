#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <vector>

namespace eggfall {

/// From counts to verdicts: every treated group of `trial`, and each of its worms, stage by stage
/// (see GroupAnalysis); the control group; and the drenches compared with one another.
///
/// Deterministic; only GroupAnalysis::judgement's larger trials are simulated, from the seed.
/// A group that settings.design does not fit has no reduction, and a caveat says so.
/// @throws InputError for a level outside (0, 1), criteria not among
///   `cut_offs`, or as check_doses().
TrialAnalysis analyse(const Trial& trial, const CutOffs& cut_offs,
                      const AnalysisSettings& settings);

/// How many groups were treated, of one trial or of all together.
std::size_t treated_groups(const Trial& trial);
std::size_t treated_groups(const std::vector<Trial>& trials);

/// The simulations of AnalysisSettings that a whole table is worth if nobody says: they take some
/// tenths of a second a group, enough for a farm and too slow for a region. 0 for more than
/// `most_groups_simulated` treated groups.
inline constexpr std::size_t most_groups_simulated = 20;
std::size_t default_simulations(std::size_t groups);

} // namespace eggfall
