#pragma once

#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/group_evidence.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <vector>

// The last stage of an analysis.
namespace eggfall {

/// What to do about one group, whose standing is in `judgement`. `course` is looked at too: eggs
/// that came back early do not change the class of the test's own day, but the drench's next use
/// depends on them.
Advice advise(const GroupEvidence& evidence, const FieldCheck& field, const Judgement& judgement,
              const std::vector<Caveat>& caveats, const VisitCourse& course);

} // namespace eggfall
