#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/trial/trial.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// Each worm of the cultures that `all` has, with its reduction, intervals at `level`, a verdict by
/// each criterion that does not demand an interval of its own, and caveats. Empty without cultures.
/// Larvae of kinds whose eggs were told apart on the slide are left out: their eggs are not in
/// `all`. `all` is the evidence of `treated`, against `control` if its design has one.
std::vector<WormAnalysis> worms_by_culture(const Evidence& all, const Group& treated,
                                           const Group* control, const CutOffs& cut_offs,
                                           double level);

/// The first verdict that there is on the worm; of criteria that do not judge it (they demand an
/// interval that larvae cannot give, or there is no fall) that of the first.
const Verdict& verdict_of(const WormAnalysis& worm);

/// Whether verdict_of() finds the worm resistant, strongly or not.
bool survives(const WormAnalysis& worm);

/// Whether it may survive, for all that the trial shows: it is not called susceptible, though it
/// was found after treatment and its fall is below what is expected, or cannot be worked out.
bool may_survive(const WormAnalysis& worm);

/// The names of those worms that `so` is true of.
std::vector<std::string> worms_that(bool (*so)(const WormAnalysis&),
                                    const std::vector<WormAnalysis>& worms);

/// Whether the group's worms are not told apart though a larval culture would do it: strongyles of
/// ruminants, none of them named.
bool worms_untold(const GroupAnalysis& analysis);

/// The kinds of egg that a group's animals have in columns of their own, by name.
std::vector<std::string> kinds_told_apart(const Group& group);

/// What a group's own counts are of, said beside some of its worms: "all worms together"; "the
/// other worms" beside those counted apart; or else "all worms but nematodirus".
std::string judged_together(const GroupAnalysis& analysis, const std::vector<std::string>& beside);

/// The group with the counts of one kind in place of the others, and that kind as its worm.
Group of_kind(const Group& group, const std::string& kind);

/// The result of such a group, as that of a worm of the whole one.
WormAnalysis told_apart(const GroupAnalysis& kind);

} // namespace eggfall
