#pragma once

#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
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

/// A later visit that speaks against a test whose `verdict` finds no resistance, and nothing if
/// none does: one after the test's own day, and no later than the last day on which newly picked-up
/// worms do not lay yet (practice, field_practice().last_day), on which the fall was below the
/// lowest threshold of the verdict. A drench that works does not let counts rise by then, while one
/// that only stops the worms laying does. It is serious if the visit's interval lies below the
/// expected efficacy, and a warning otherwise; the gravest visit is told, of equals the first.
std::optional<Caveat> later_visit_caveat(const std::vector<VisitFall>& visits,
                                         const Verdict& verdict);

} // namespace eggfall
