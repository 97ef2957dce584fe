#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>
#include <vector>

// The words that a comparison of drenches is told in, on screen and on paper.
namespace eggfall {

/// A chance as a whole number of 100, never 0 or 100.
std::string of_100(const Quadrature& chance);

/// The group's analysis; it must be in the trial.
const GroupAnalysis& analysis_of(const TrialAnalysis& trial, const std::string& group);

/// What the ranking can tell apart, what the verdicts say to it, and what it is about. The trial
/// must have a ranking.
std::vector<std::string> ranking_sentences(const TrialAnalysis& trial);

/// Each combination beside its parts, and what that comparison takes for granted.
std::vector<std::string> combination_sentences(const TrialAnalysis& trial);

} // namespace eggfall
