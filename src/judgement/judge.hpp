#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "eggfall/trial/trial.hpp"
#include "judgement/own_fall.hpp"

#include <optional>
#include <string>
#include <vector>

// The stage of an analysis that applies the criteria.
namespace eggfall {

/// The criteria with the one named in front, or as they are if `first` is empty.
/// @throws InputError if there are none, or none of that name.
CutOffs with_criteria_first(CutOffs cut_offs, const std::string& first);

/// Which of evidence_by_design() a criterion judges by; nullptr if there is none.
const Evidence* evidence_judged_by(const Criteria& criteria,
                                   const std::vector<Evidence>& by_design);

/// The interval that a criterion judges by, at its level: the one it demands, or the headline.
/// `SomeEvidence` is an Evidence, or a WormEvidence.
template <typename SomeEvidence>
Interval interval_for(const Criteria& criteria, const SomeEvidence& evidence) {
  return criteria.method ? evidence.interval(*criteria.method, criteria.level)
                         : evidence.headline(criteria.level);
}

/// The verdict by a criterion, if it has a cut-off for the group. `evidence` is nullptr if nothing
/// could be compared. `SomeEvidence` is an Evidence, or a WormEvidence.
template <typename SomeEvidence>
Verdict judge(const Criteria& criteria, const Group& group, const SomeEvidence* evidence) {
  const CutOffChoice choice = choose_cut_off(criteria, group);
  if (choice.cut_off == nullptr || evidence == nullptr) { // spares the work of an interval
    Verdict none = classify(criteria, choice, std::nullopt, {});
    none.interval.reset();
    return none;
  }
  Verdict verdict =
      classify(criteria, choice, evidence->reduction(), interval_for(criteria, *evidence));
  verdict.design = evidence->design();
  return verdict;
}

/// Whether a verdict is inconclusive and its lower limit is set by the luck of counting alone. It
/// is false for any other verdict, since to find out takes the work of an interval. `evidence` is
/// that of the verdict, or nullptr.
bool limited_by_luck(const Verdict& verdict, const Evidence* evidence);

/// What judging a group needs beside its evidence.
struct JudgementContext {
  const CutOffs& cut_offs; ///< with_criteria_first().
  const AnalysisSettings& settings;

  /// The criteria of the verdict shown first.
  const Criteria& criteria() const { return cut_offs.criteria.front(); }
};

/// The verdicts on a group, or on one kind of its eggs, with what the first rests on: best_lower,
/// own_fall and probabilities. `by_design` is the evidence of `group`, `season` what its control
/// tells. Worms and standing are still empty.
Judgement judge_counts(const Group& group, const std::vector<Evidence>& by_design,
                       const std::optional<ToldSeason>& season, const JudgementContext& context);

/// The same for a worm told by its larvae; `group` holds what the thresholds hang on.
Judgement judge_larvae(const Group& group, const WormEvidence& larvae,
                       const std::optional<ToldSeason>& season, const JudgementContext& context);

/// judge_counts() of a whole group, and what the first verdict would be under other priors, or had
/// the trial been larger.
Judgement judge_group(const Group& group, const std::vector<Evidence>& by_design,
                      const std::optional<ToldSeason>& season, const JudgementContext& context);

} // namespace eggfall
