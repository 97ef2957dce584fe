#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <vector>

namespace eggfall {

/// The fall at each visit of a group, treated or not, since before treatment: of the same animals,
/// by the paired design, with its headline interval at `level`. Beside visits stands the test's own
/// sample, if it is of none, on its day by `days` (empty, and first, if that differs or is not
/// known). `group` is the one that is judged, so that its `day_after` tells which visit the test's
/// is. Nothing for a group without visits.
std::vector<VisitFall> visit_falls(const Group& group, const DayCheck& days,
                                   const PosteriorPriors& priors, double level);

} // namespace eggfall
