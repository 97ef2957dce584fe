#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "judgement/caveats.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The weaknesses that lie in the field work: doses, days, and animals missing after treatment.
/// Not sorted. Part of find_caveats().
std::vector<Caveat> field_caveats(const FieldCheck& field, const GroupEvidence& evidence,
                                  const Judgement& judgement, const CaveatContext& context);

/// "day 8 to 10", "day 14", or "day 8 to 10, or day 14 where classes are compared".
std::string days_in_words(const UsualDays& usual);

} // namespace eggfall
