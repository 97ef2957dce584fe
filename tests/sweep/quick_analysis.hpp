#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/trial/trial.hpp"

/// The stages of analyse() after the evidence (field check, verdicts, bars, caveats and
/// standing), on evidence that costs next to nothing: the one interval of closed form that the
/// design allows, in place of posteriors and bootstraps. What it says of a drench is worth less;
/// what must hold of a standing must hold of it all the same, and a million can be had. The
/// control's season is its own observed change. Of worms told apart, visits beside the test's and
/// advice it has nothing.
eggfall::TrialAnalysis quick_analysis(const eggfall::Trial& trial,
                                      const eggfall::CutOffs& cut_offs);
