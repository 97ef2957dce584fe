#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace eggfall {

/// Everything a caveat may look at.
struct CaveatContext {
  const CutOffs& cut_offs;
  const Criteria& criteria; ///< The criteria of the verdict shown first.
  const ControlAnalysis* control = nullptr;
  std::size_t treated_groups = 1;
  std::optional<Design> wanted; ///< The design asked for, if one was.
  std::optional<FirstTreated> first_treated = {};
  bool units_confirmed = false; ///< AnalysisSettings::units_confirmed.
};

/// The weaknesses of one group's result, the most serious first. `judgement` is complete but for
/// its standing.
std::vector<Caveat> find_caveats(const GroupEvidence& evidence, const FieldCheck& field,
                                 const Judgement& judgement, const CaveatContext& context);

/// The weaknesses of one worm's result, the most serious first. They are those of what was counted
/// of this worm alone, since all else is told for the whole group. `worm` is complete but for its
/// caveats and its standing; `of_group` is the evidence of the worms judged together.
std::vector<Caveat> find_caveats(const WormAnalysis& worm, const GroupEvidence& of_group,
                                 const CaveatContext& context);

} // namespace eggfall
