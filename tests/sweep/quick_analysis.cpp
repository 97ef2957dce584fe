#include "quick_analysis.hpp"

#include "eggfall/statistics/evidence.hpp"
#include "judgement/caveats.hpp"
#include "judgement/decide_standing.hpp"
#include "judgement/find_bars.hpp"
#include "judgement/gather_evidence.hpp"
#include "trial/trial_lookup.hpp"
#include "trial/visits.hpp"

#include <algorithm>
#include <optional>
#include <utility>

using namespace eggfall;

namespace {

Method quick_method(Design design) {
  return pairs_animals(design) ? Method::paired_log_ratio : Method::log_ratio_1992;
}

GroupEvidence quick_evidence(const Group& group, const Evidence* evidence) {
  GroupEvidence shown;
  shown.group = group;
  shown.animal_results = animal_results(group);
  const Comparison* const comparison = evidence != nullptr ? &evidence->comparison() : nullptr;
  const TreatedCounts counts = treated_counts(group, comparison);
  shown.before = summarise(counts.before);
  shown.after = summarise(counts.after);
  shown.law = WhyNot{"left out"};
  if (comparison == nullptr)
    return shown;
  shown.design = comparison->design;
  shown.reduction = evidence->reduction();
  shown.headline =
      evidence->interval(quick_method(comparison->design), AnalysisSettings::default_level);
  shown.intervals = {shown.headline};
  shown.animals = counts.after.size();
  shown.dropped = comparison->dropped;
  if (comparison->arms.size() > 1)
    shown.control = summarise(comparison->arms.back().below);
  return shown;
}

Verdict quick_verdict(const Criteria& criteria, const Group& group, const Evidence* evidence) {
  const CutOffChoice choice = choose_cut_off(criteria, group);
  if (choice.cut_off == nullptr || evidence == nullptr)
    return classify(criteria, choice, std::nullopt, {});
  Verdict verdict = classify(criteria, choice, evidence->reduction(),
                             evidence->interval(quick_method(evidence->design()), criteria.level));
  verdict.design = evidence->design();
  return verdict;
}

/// The fall with the control's own observed change taken out, limits and all.
std::optional<OwnFall> quick_own_fall(const Criteria& criteria, const Group& group,
                                      const Verdict& verdict, const ControlAnalysis* untreated) {
  if (untreated == nullptr || verdict.design != Design::paired || !verdict.reduction)
    return std::nullopt;
  const auto fall = untreated->reduction;
  if (!fall || *fall >= 1)
    return std::nullopt;
  const auto own = [&](double reduction) { return 1 - (1 - reduction) / (1 - *fall); };
  Interval interval = verdict.interval.value_or(Interval());
  if (interval.usable()) {
    interval.lower = own(*interval.lower);
    interval.upper = own(*interval.upper);
  }
  OwnFall result;
  result.verdict =
      classify(criteria, choose_cut_off(criteria, group), own(*verdict.reduction), interval);
  result.verdict.design = verdict.design;
  result.control_fall = fall;
  return result;
}

/// Fewer eggs than this in all could be luck (any number will do here).
bool quick_luck(const Verdict& verdict, const GroupEvidence& evidence) {
  return verdict.verdict_class == VerdictClass::inconclusive && evidence.before.eggs < 40;
}

/// What became of the untreated, but for what they tell of the season.
ControlAnalysis quick_control(const Group& control) {
  ControlAnalysis analysis;
  analysis.group = control;
  analysis.before = summarise(counts_when(control.animals, &Animal::before));
  analysis.after = summarise(counts_when(control.animals, &Animal::after));
  if (const auto paired = compare(Design::paired, control, nullptr)) {
    analysis.sampled_twice = paired->arms.front().above.size();
    analysis.reduction = Evidence(*paired, {}).reduction();
  }
  analysis.days = check_days(control, {});
  return analysis;
}

GroupAnalysis quick_group(const Group& group, const ControlAnalysis* untreated, const Trial& trial,
                          const CutOffs& cut_offs) {
  const Group* const control = untreated != nullptr ? &untreated->group : nullptr;
  const auto design = preferred_design(group, control);
  std::optional<Evidence> evidence;
  if (design)
    if (auto comparison = compare(*design, group, control))
      evidence.emplace(std::move(*comparison), PosteriorPriors());
  const Evidence* const has = evidence ? &*evidence : nullptr;
  GroupAnalysis result;
  result.evidence = quick_evidence(group, has);
  result.field = check_field(group, has != nullptr ? &has->comparison() : nullptr,
                             usual_days(cut_offs, group, trial),
                             untreated != nullptr ? &untreated->days : nullptr);
  Judgement& judgement = result.judgement;
  for (const Criteria& criteria : cut_offs.criteria)
    judgement.verdicts.push_back(quick_verdict(criteria, group, has));
  judgement.own_fall =
      quick_own_fall(cut_offs.criteria.front(), group, judgement.first_verdict(), untreated);
  const auto treated =
      static_cast<std::size_t>(std::ranges::count(trial.groups, Role::treated, &Group::role));
  result.caveats = find_caveats(result.evidence, result.field, judgement,
                                {cut_offs, cut_offs.criteria.front(), untreated, treated,
                                 std::nullopt, first_treated(trial), false});
  decide(judgement, result.caveats,
         find_bars({group, judgement.first_verdict(), result.field, result.evidence.animals,
                    quick_luck(judgement.first_verdict(), result.evidence), false, false,
                    judgement.own_fall}),
         result.field);
  return result;
}

} // namespace

TrialAnalysis quick_analysis(const Trial& trial, const CutOffs& cut_offs) {
  TrialAnalysis result;
  result.trial = trial.name;
  const Group* const control = control_of(trial);
  for (const Group& group : trial.groups) {
    if (group.role != Role::treated)
      continue;
    const std::optional<int> day = test_day(group, usual_days(cut_offs, group, trial));
    std::optional<ControlAnalysis> untreated;
    if (control != nullptr)
      untreated =
          quick_control(day && !has_own_after(*control) ? on_visit(*control, *day) : *control);
    result.groups.push_back(quick_group(day ? on_visit(group, *day) : group,
                                        untreated ? &*untreated : nullptr, trial, cut_offs));
  }
  return result;
}
