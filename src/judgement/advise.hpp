#pragma once

#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/group_evidence.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <vector>

// The last stage of an analysis.
namespace eggfall {

/// What to do about one group; `judgement` has its standing.
Advice advise(const GroupEvidence& evidence, const FieldCheck& field, const Judgement& judgement,
              const std::vector<Caveat>& caveats);

} // namespace eggfall
