#pragma once

#include "eggfall/judgement/judgement.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/trial/trial.hpp"
#include "judgement/caveats.hpp"
#include "judgement/judge.hpp"
#include "judgement/own_fall.hpp"

#include <optional>
#include <string>
#include <vector>

// The worms of a group, each by the stages that the group itself goes through.
namespace eggfall {

/// The group whose worms are told apart, as far as it is analysed.
struct AnalysedGroup {
  const Group& group;
  const GroupEvidence& shown;             ///< Made of `by_design`.
  const std::vector<Evidence>& by_design; ///< Against `control`, where a design has one.
  const FieldCheck& field;
  const Group* control;                    ///< Or nullptr.
  const std::optional<ToldSeason>& season; ///< Of all worms together.
};

/// The analyses of a group's worms: first those told by larval cultures, then those whose eggs were
/// told apart on the slide. Larvae of the latter are left out of the cultures, since their eggs are
/// not among the counts that larvae split.
std::vector<WormAnalysis> analyse_worms(const AnalysedGroup& analysed,
                                        const JudgementContext& judging,
                                        const CaveatContext& context);

/// Whether analyse_worms() could find any worm: in a culture of the group or of `control` (or
/// nullptr), or by eggs of the group that were counted apart.
bool any_worm_told(const Group& group, const Group* control);

/// The names of those worms that `is_so` is true of.
std::vector<std::string> worms_that(bool (*is_so)(const WormAnalysis&),
                                    const std::vector<WormAnalysis>& worms);

/// Whether the worms of `group` are not told apart though a larval culture would do it: strongyles
/// of ruminants, none of them named. Larvae tell worms apart where the fall of at least one named
/// worm has both its limits by them.
bool worms_untold(const Group& group, const std::vector<WormAnalysis>& worms);

/// Words for the worms that a group's own counts are of, to be said beside some of its worms
/// (`beside`): "all worms together" if no kind of egg was counted apart; "the other worms" if all
/// kinds that were are among `beside`; otherwise "all worms but nematodirus".
std::string judged_together(const Group& group, const std::vector<std::string>& beside);

} // namespace eggfall
