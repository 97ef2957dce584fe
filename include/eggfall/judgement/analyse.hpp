#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/trial/trial.hpp"

namespace eggfall {

/// From counts to verdicts: for every treated group of `trial` the comparison, the
/// reduction, its intervals, a verdict by each criterion, and the caveats.
///
/// Deterministic: bootstrap streams are keyed by the seed, the names of trial and
/// group, and the replicate.
/// A group that settings.design does not fit has no reduction, and a caveat says so.
/// @throws InputError for a level outside (0, 1), resamples out of range, or criteria
///   not among `cut_offs`.
TrialAnalysis analyse(const Trial& trial, const CutOffs& cut_offs,
                      const AnalysisSettings& settings);

} // namespace eggfall
