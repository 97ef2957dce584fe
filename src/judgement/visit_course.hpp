#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <vector>

namespace eggfall {

/// The fall since before treatment at each visit of a group, treated or not, in the order of days:
/// of the same animals, by the paired design, with its headline interval at `level`. A sample of
/// the test's own that belongs to no visit is among them, on its day by `days`; its day is empty,
/// and it comes first, if animals differ in it or it is not known. `group` is the one that is
/// judged, so that its `day_after` tells which visit is the test's. Empty for a group without
/// visits.
std::vector<VisitFall> visit_falls(const Group& group, const DayCheck& days,
                                   const PosteriorPriors& priors, double level);

} // namespace eggfall
