#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

namespace eggfall {

/// What became of the untreated animals of a trial, by themselves.
ControlAnalysis analyse_control(const Group& control, const PosteriorPriors& priors);

} // namespace eggfall
