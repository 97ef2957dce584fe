#pragma once

#include "tally.hpp"

#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstdint>
#include <string>

/// What holds of every analysis, whatever its evidence: limits that are finite, ordered and nested;
/// chances that are some, and contradict no verdict; a standing that no bar leaves good.
void check_judgement(Tally& tally, const SweptTrial& swept, const eggfall::TrialAnalysis& analysis);

/// What is told of it (the farmer's part and the letter, JSON, the report and the text) shows a
/// tick for a standing that works, and for no other, and no number that is none. It takes some
/// milliseconds.
void check_writers(Tally& tally, const SweptTrial& swept, const eggfall::TrialAnalysis& analysis,
                   const eggfall::AnalysisSettings& settings);

/// All that is decided and all numbers, by group, but for the names: two analyses that say the same
/// have the same text.
std::string said(const eggfall::TrialAnalysis& analysis);

/// The trial under other names of its groups and animals, and with its rows turned round.
eggfall::Trial under_other_names(eggfall::Trial trial);
