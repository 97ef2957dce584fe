#include "eggfall/judgement/analyse.hpp"

#include "eggfall/base/random_stream.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "judgement/caveats.hpp"
#include "judgement/judgement.hpp"
#include "judgement/worms.hpp"
#include "trial/trial_lookup.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace eggfall {
namespace {

std::vector<AnimalResult> animal_results(const Group& group) {
  std::vector<AnimalResult> results;
  for (const Animal& animal : group.animals) {
    AnimalResult result{animal.tag, animal.before, animal.after, std::nullopt};
    if (animal.before && animal.after && animal.before->eggs.value() > 0)
      result.reduction = 1 - animal.after->epg() / animal.before->epg();
    results.push_back(std::move(result));
  }
  return results;
}

ControlAnalysis analyse_control(const Group& control) {
  ControlAnalysis analysis;
  analysis.group = control;
  analysis.before = summarise(counts_when(control.animals, &Animal::before));
  analysis.after = summarise(counts_when(control.animals, &Animal::after));
  if (const auto paired = compare(Design::paired, control, nullptr)) {
    analysis.sampled_twice = paired->arms.front().above.size();
    analysis.reduction = Evidence(*paired, {}, {}).reduction();
  }
  analysis.animal_results = animal_results(control);
  analysis.days = check_days(control, {}); // untreated, so no day is usual: its dates count
  return analysis;
}

DesignEstimate estimate(const Evidence& evidence, double level) {
  DesignEstimate result;
  result.design = evidence.comparison().design;
  result.reduction = evidence.reduction();
  result.headline = evidence.headline(level);
  for (const Method method : evidence.methods())
    result.intervals.push_back(evidence.interval(method, level));
  return result;
}

/// The lower limit that a count of zero after treatment would have given.
std::optional<double> best_lower(const Evidence& evidence, const BootstrapSettings& bootstrap,
                                 const PosteriorPriors& priors, double level) {
  if (!evidence.reduction())
    return std::nullopt;
  Comparison none = evidence.comparison();
  for (Count& count : none.arms.front().above)
    count.eggs = EggsSeen(0);
  return Evidence(std::move(none), bootstrap, priors).headline(level).lower;
}

std::optional<EfficacyProbabilities> probabilities(const Verdict& verdict,
                                                   const Evidence& evidence) {
  const bool by_posterior = verdict.interval && verdict.interval->usable() &&
                            verdict.interval->method == Method::guarded_posterior;
  if (!by_posterior || evidence.outside_posterior())
    return std::nullopt;
  const LogRatioDensity& density = *evidence.posterior().density;
  EfficacyProbabilities result;
  result.below_expected = density.probability_efficacy_below(*verdict.expected).value;
  result.below_lower = density.probability_efficacy_below(*verdict.lower).value;
  result.between = result.below_expected - result.below_lower;
  result.at_least_expected = 1 - result.below_expected;
  return result;
}

/// What the posterior and its class would be under other priors; nothing if the verdict does not
/// rest on the posterior.
std::vector<PriorSensitivity> sensitivity(const Verdict& verdict, const Criteria& criteria,
                                          const Group& group, const Evidence& evidence) {
  if (!verdict.interval || !verdict.interval->usable() ||
      verdict.interval->method != Method::guarded_posterior)
    return {};
  std::vector<PriorSensitivity> result;
  for (const double scale : {0.5, 2.0}) {
    PriorSensitivity at{scale, evidence.guarded_interval(criteria.level, scale), {}};
    at.verdict_class =
        classify(criteria, choose_cut_off(criteria, group), evidence.reduction(), at.interval)
            .verdict_class;
    result.push_back(std::move(at));
  }
  return result;
}

/// What an inconclusive group could learn from more counts or animals.
std::vector<NextStepOutcome> next_steps(const Verdict& verdict, const Criteria& criteria,
                                        const Evidence& evidence, const AnalysisSettings& settings,
                                        std::uint64_t stream_group) {
  if (verdict.verdict_class != VerdictClass::inconclusive || criteria.method ||
      evidence.outside_posterior()) // a model that does not fit predicts nothing
    return {};
  return what_next(evidence.comparison(), settings.priors, criteria.level, *verdict.lower,
                   *verdict.expected, usual_next_steps(),
                   {settings.simulations, settings.seed, stream_group});
}

/// What the group brings into a comparison with others.
DrenchPosterior drench_posterior(const GroupAnalysis& analysis, const std::vector<Evidence>& all) {
  const Group& group = analysis.group;
  DrenchPosterior drench{group.name,        group.classes,   group.host,
                         group.worm,        analysis.design, analysis.reduction,
                         analysis.headline, std::nullopt,    {}};
  if (all.empty()) {
    drench.why_not = "nothing could be compared";
    return drench;
  }
  const Evidence& evidence = all.front();
  const Interval limits =
      evidence.interval(posterior_method(*analysis.design), analysis.headline.level);
  if (!limits.usable())
    drench.why_not = limits.why_not;
  else if (analysis.outside_posterior)
    drench.why_not = "its animals fell too differently for the model";
  else
    drench.density = evidence.posterior().density;
  return drench;
}

struct AnalysedGroup {
  GroupAnalysis analysis;
  DrenchPosterior drench;
};

AnalysedGroup analyse_group(const Group& group, const Group* control, const CutOffs& cut_offs,
                            const AnalysisSettings& settings, const BootstrapSettings& bootstrap) {
  GroupAnalysis analysis;
  analysis.group = group;
  analysis.animal_results = animal_results(group);
  const std::vector<Evidence> all =
      evidence_of(group, control, settings.design, bootstrap, settings.priors);
  const TreatedCounts shown =
      treated_counts(group, all.empty() ? nullptr : &all.front().comparison());
  analysis.before = summarise(shown.before);
  analysis.after = summarise(shown.after);
  if (!all.empty()) {
    const Comparison& comparison = all.front().comparison();
    DesignEstimate first = estimate(all.front(), settings.level);
    analysis.design = first.design;
    analysis.reduction = first.reduction;
    analysis.headline = std::move(first.headline);
    analysis.intervals = std::move(first.intervals);
    analysis.animals = shown.after.size();
    if (comparison.arms.size() > 1)
      analysis.control = summarise(comparison.arms.back().below);
    analysis.dropped = comparison.dropped;
    analysis.missing_after = missing_after(group, comparison);
    for (std::size_t i = 1; i < all.size(); ++i)
      analysis.other_designs.push_back(estimate(all[i], settings.level));
  }
  if (!all.empty())
    analysis.best_lower =
        best_lower(all.front(), bootstrap, settings.priors, cut_offs.criteria.front().level);
  for (const Criteria& criteria : cut_offs.criteria)
    analysis.verdicts.push_back(judge(criteria, group, evidence_for(criteria, all)));
  if (!all.empty()) {
    const Verdict& verdict = analysis.verdicts.front();
    analysis.outside_posterior = all.front().outside_posterior();
    analysis.probabilities = probabilities(verdict, all.front());
    analysis.next_steps =
        next_steps(verdict, cut_offs.criteria.front(), all.front(), settings, bootstrap.group);
    analysis.sensitivity = sensitivity(verdict, cut_offs.criteria.front(), group, all.front());
    analysis.worms = worms_by_culture(all.front(), group, control, cut_offs, settings.level);
  }
  DrenchPosterior drench = drench_posterior(analysis, all);
  analysis.density = drench.density;
  return {std::move(analysis), std::move(drench)};
}

/// The worms whose eggs were told apart on the slide, each from its own counts.
std::vector<WormAnalysis> worms_on_the_slide(const Group& group, const Group* control,
                                             const CutOffs& cut_offs, AnalysisSettings settings,
                                             const BootstrapSettings& bootstrap,
                                             const CaveatContext& context) {
  settings.simulations = 0;
  std::vector<WormAnalysis> worms;
  for (const std::string& kind : kinds_told_apart(group)) {
    const std::optional<Group> kind_of_control =
        control != nullptr ? std::optional(of_kind(*control, kind)) : std::nullopt;
    GroupAnalysis analysis =
        analyse_group(of_kind(group, kind), kind_of_control ? &*kind_of_control : nullptr, cut_offs,
                      settings, bootstrap)
            .analysis;
    analysis.caveats = find_caveats(analysis, context);
    worms.push_back(told_apart(analysis));
  }
  return worms;
}

} // namespace

const SampleSummary& compared_with(const GroupAnalysis& analysis) {
  const bool by_control = analysis.design && !pairs_animals(*analysis.design);
  return by_control ? *analysis.control : analysis.before;
}

SampleSummary summarise(const std::vector<Count>& counts) {
  SampleSummary summary;
  const PooledCount total = pooled(counts);
  summary.animals = total.animals;
  summary.animals_mixed = total.animals_mixed;
  summary.eggs = total.eggs;
  summary.factor = total.factor;
  if (counts.empty())
    return summary;
  std::vector<std::uint32_t> eggs;
  for (const Count& count : counts) {
    eggs.push_back(count.eggs.value());
    summary.pools += count.animals > 1 ? 1 : 0;
    summary.largest = std::max(summary.largest, count.animals);
  }
  summary.mean_epg = mean_epg(counts);
  summary.animals_without_eggs = static_cast<std::size_t>(std::ranges::count(eggs, 0U));
  if (summary.factor)
    summary.spread = count_spread(eggs);
  return summary;
}

TrialAnalysis analyse(const Trial& trial, const CutOffs& cut_offs,
                      const AnalysisSettings& settings) {
  check_level(settings.level);
  const CutOffs criteria = ordered(cut_offs, settings.criteria);
  TrialAnalysis result;
  result.trial = trial.name;
  const Group* control = control_of(trial);
  if (control != nullptr)
    result.control = analyse_control(*control);

  const auto bootstrap = [&](const Group& group) {
    return BootstrapSettings{settings.resamples, settings.seed,
                             stream_group(trial.name, group.name)};
  };
  std::vector<DrenchPosterior> drenches;
  for (const Group& group : trial.groups) {
    if (group.role != Role::treated)
      continue;
    AnalysedGroup analysed = analyse_group(group, control, criteria, settings, bootstrap(group));
    result.groups.push_back(std::move(analysed.analysis));
    drenches.push_back(std::move(analysed.drench));
  }
  if (drenches.size() > 1) {
    result.ranking = rank_drenches(drenches, settings.level);
    result.combinations = find_combinations(drenches, settings.level);
  }

  const CaveatContext context{criteria,
                              criteria.criteria.front(),
                              result.control ? &*result.control : nullptr,
                              result.groups.size(),
                              settings.design,
                              first_treated(trial)};
  for (GroupAnalysis& group : result.groups) {
    group.doses = check_doses(group.group);
    group.days = check_days(group.group, usual_days(criteria, group.group, trial));
    std::ranges::move(worms_on_the_slide(group.group, control, criteria, settings,
                                         bootstrap(group.group), context),
                      std::back_inserter(group.worms));
    group.caveats = find_caveats(group, context);
  }
  return result;
}

} // namespace eggfall
