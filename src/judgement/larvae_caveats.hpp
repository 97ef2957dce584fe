#pragma once

#include "eggfall/judgement/judgement.hpp"

#include <vector>

namespace eggfall {

/// The weaknesses of what larval cultures say of one worm, the most serious first. `worm` is
/// complete but for its caveats and its standing; `of_group` is the evidence of all worms together.
std::vector<Caveat> larvae_caveats(const WormAnalysis& worm, const GroupEvidence& of_group);

/// The weaknesses of the cultures of a group and of `control`, or nullptr, that concern all of its
/// `worms` alike.
std::vector<Caveat> culture_caveats(const Group& group, const Group* control,
                                    const std::vector<WormAnalysis>& worms);

} // namespace eggfall
