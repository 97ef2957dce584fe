#include "judgement/judge.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

bool by_guarded_posterior(const Verdict& verdict) {
  return verdict.interval && verdict.interval->usable() &&
         verdict.interval->method == Method::guarded_posterior;
}

/// Sets the chances that are told: those of the drench's own fall where that is known, and
/// otherwise those of the fall of the counts.
template <typename SomeEvidence>
void set_chances(Judgement& judgement, const Verdict& verdict, const SomeEvidence& evidence) {
  judgement.probabilities = judgement.own_fall ? judgement.own_fall->probabilities
                                               : probabilities_of(verdict, evidence.guarded());
}

/// The lower limit that a count of zero after treatment would have given.
std::optional<double> best_lower(const Evidence& evidence, const JudgementContext& context) {
  if (!evidence.reduction())
    return std::nullopt;
  Comparison none = evidence.comparison();
  for (Count& count : none.arms.front().above)
    count.eggs = EggsSeen(0);
  return Evidence(std::move(none), context.settings.priors)
      .headline(context.criteria().level)
      .lower;
}

/// The lower limit as it would be if none of the worm's larvae had been found after treatment.
/// Fewer larvae after treatment can only raise the limit, so that it is worked out only where the
/// limit falls short of its threshold.
std::optional<double> best_lower(const WormEvidence& larvae, const Verdict& verdict) {
  const bool falls_short = verdict.lower && verdict.interval && verdict.interval->usable() &&
                           *verdict.interval->lower < *verdict.lower;
  if (!larvae.reduction() || !falls_short)
    return std::nullopt;
  return larvae.without_larvae_after().headline(verdict.interval->level).lower;
}

/// What the posterior and its class would be under other priors; nothing if the verdict does not
/// rest on the posterior.
std::vector<PriorSensitivity> sensitivity(const Verdict& verdict, const Criteria& criteria,
                                          const Group& group, const Evidence& evidence) {
  if (!by_guarded_posterior(verdict))
    return {};
  std::vector<PriorSensitivity> result;
  for (const double scale : {0.5, 2.0}) {
    PriorSensitivity other{scale, evidence.guarded_interval(criteria.level, scale), {}};
    other.verdict_class =
        classify(criteria, choose_cut_off(criteria, group), evidence.reduction(), other.interval)
            .verdict_class;
    result.push_back(std::move(other));
  }
  return result;
}

/// What an inconclusive group could learn from more counts or animals; empty for any other verdict,
/// and for a criterion that demands a method of its own.
std::vector<LargerTrialOutcome> had_it_been_larger(const Verdict& verdict, const Evidence& evidence,
                                                   const JudgementContext& context) {
  if (verdict.verdict_class != VerdictClass::inconclusive || context.criteria().method)
    return {};
  const AnalysisSettings& settings = context.settings;
  return larger_trials(evidence.comparison(), settings.priors, context.criteria().level,
                       *verdict.lower, *verdict.expected, usual_extensions(),
                       {settings.simulations, settings.seed});
}

} // namespace

bool limited_by_luck(const Verdict& verdict, const Evidence* evidence) {
  if (evidence == nullptr || verdict.verdict_class != VerdictClass::inconclusive ||
      !verdict.interval || verdict.interval->method != Method::guarded_posterior)
    return false;
  const OrReason<GuardedLaw>& law = evidence->guarded();
  return law && law->guarded_by(verdict.interval->level).lower == Witness::luck;
}

CutOffs with_criteria_first(CutOffs cut_offs, const std::string& first) {
  if (cut_offs.criteria.empty())
    throw InputError("no criteria to judge by; expected at least one");
  if (first.empty())
    return cut_offs;
  const auto found = std::ranges::find(cut_offs.criteria, first, &Criteria::name);
  if (found == cut_offs.criteria.end()) {
    std::string names;
    for (const Criteria& criteria : cut_offs.criteria)
      names += (names.empty() ? "" : ", ") + criteria.name;
    refuse_setting(Setting::criteria, in_quotes(first), "one of " + names);
  }
  std::rotate(cut_offs.criteria.begin(), found, found + 1);
  return cut_offs;
}

const Evidence* evidence_judged_by(const Criteria& criteria,
                                   const std::vector<Evidence>& by_design) {
  // The 1992 rule compares the treated with the control group after treatment;
  // the counts before stand in for a missing control.
  if (criteria.method == Method::log_ratio_1992)
    for (const Evidence& evidence : by_design)
      if (evidence.design() == Design::two_group)
        return &evidence;
  return by_design.empty() ? nullptr : &by_design.front();
}

Judgement judge_counts(const Group& group, const std::vector<Evidence>& by_design,
                       const std::optional<ToldSeason>& season, const JudgementContext& context) {
  Judgement judgement;
  for (const Criteria& criteria : context.cut_offs.criteria)
    judgement.verdicts.push_back(judge(criteria, group, evidence_judged_by(criteria, by_design)));
  if (by_design.empty())
    return judgement;
  judgement.best_lower = best_lower(by_design.front(), context);
  if (judgement.first_verdict().design == Design::paired)
    judgement.own_fall = own_fall(context.criteria(), group, by_design.front(), season);
  set_chances(judgement, judgement.first_verdict(), by_design.front());
  return judgement;
}

Judgement judge_larvae(const Group& group, const WormEvidence& larvae,
                       const std::optional<ToldSeason>& season, const JudgementContext& context) {
  Judgement judgement;
  for (const Criteria& criteria : context.cut_offs.criteria)
    judgement.verdicts.push_back(judge(criteria, group, &larvae));
  judgement.best_lower = best_lower(larvae, first_given(judgement.verdicts));
  judgement.own_fall = own_fall(context.criteria(), group, larvae, season);
  set_chances(judgement, judgement.first_verdict(), larvae);
  return judgement;
}

Judgement judge_group(const Group& group, const std::vector<Evidence>& by_design,
                      const std::optional<ToldSeason>& season, const JudgementContext& context) {
  Judgement judgement = judge_counts(group, by_design, season, context);
  if (by_design.empty())
    return judgement;
  const Verdict& verdict = judgement.first_verdict();
  judgement.larger_trials = had_it_been_larger(verdict, by_design.front(), context);
  judgement.sensitivity = sensitivity(verdict, context.criteria(), group, by_design.front());
  return judgement;
}

} // namespace eggfall
