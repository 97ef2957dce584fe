#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/statistics/bootstrap.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// The criteria with the one named in front, or as they are if `first` is empty.
/// @throws InputError if there are none, or none of that name.
CutOffs ordered(CutOffs cut_offs, const std::string& first);

/// The evidence by each design that a group allows, the one shown first in front: `design`, or
/// preferred_design() if that is empty. Nothing if the design in front cannot be had: better to
/// say so than to show another. `control` may be nullptr.
std::vector<Evidence> evidence_of(const Group& group, const Group* control,
                                  const std::optional<Design>& design,
                                  const BootstrapSettings& bootstrap,
                                  const PosteriorPriors& priors);

/// Which of evidence_of() a criterion judges by; nullptr if there is none.
const Evidence* evidence_for(const Criteria& criteria, const std::vector<Evidence>& all);

/// The interval that a criterion judges by, at its level: the one it demands, or the headline.
/// `SomeEvidence` is an Evidence, or a WormEvidence.
template <typename SomeEvidence>
Interval interval_for(const Criteria& criteria, const SomeEvidence& evidence) {
  return criteria.method ? evidence.interval(*criteria.method, criteria.level)
                         : evidence.headline(criteria.level);
}

/// The verdict on a group by a criterion, if it has a cut-off for the group: from a reduction by
/// `design` and the criterion's interval.
Verdict judge(const Criteria& criteria, const Group& group, Design design,
              const std::optional<double>& reduction, const Interval& interval);

/// The same from a group's evidence, which is evidence_for() the criterion.
Verdict judge(const Criteria& criteria, const Group& group, const Evidence* evidence);

struct TreatedCounts {
  std::vector<Count> before;
  std::vector<Count> after;
};

/// The treated animals' counts to show beside a comparison: those compared, if it pairs them, or
/// else all that were sampled. `comparison` may be nullptr.
TreatedCounts treated_counts(const Group& group, const Comparison* comparison);

} // namespace eggfall
