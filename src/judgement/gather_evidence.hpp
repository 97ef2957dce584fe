#pragma once

#include "eggfall/judgement/group_evidence.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <vector>

// The first stage of an analysis: the numbers by every design. The evidence itself is handed on
// beside the values that are shown, since a criterion may ask it for intervals of its own.
namespace eggfall {

/// The evidence by each design that a group allows. In front is the one shown first: `design`, or
/// preferred_design() if that is empty. If the counts do not allow that design there is no evidence
/// at all, since it is better to say so than to show another in its place. `control` may be
/// nullptr.
std::vector<Evidence> evidence_by_design(const Group& group, const Group* control,
                                         const std::optional<Design>& design,
                                         const PosteriorPriors& priors);

struct TreatedCounts {
  std::vector<Count> before;
  std::vector<Count> after;
};

/// The treated animals' counts to show beside a comparison: those compared, if it pairs them, or
/// else all that were sampled. `comparison` may be nullptr.
TreatedCounts treated_counts(const Group& group, const Comparison* comparison);

/// What is shown of evidence_by_design() of the group, with intervals at `level`.
GroupEvidence shown_evidence(const Group& group, const std::vector<Evidence>& by_design,
                             double level);

/// What is shown of one worm by its larvae. `group` holds what the thresholds hang on, and no
/// animals.
GroupEvidence shown_evidence(const Group& group, const WormEvidence& larvae, double level);

} // namespace eggfall
