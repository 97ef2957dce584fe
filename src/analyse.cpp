#include "eggfall/analyse.hpp"

#include "eggfall/caveats.hpp"
#include "eggfall/error.hpp"
#include "eggfall/evidence.hpp"
#include "eggfall/random_stream.hpp"
#include "eggfall/text.hpp"
#include "eggfall/worms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

namespace eggfall {
namespace {

std::vector<Count> counts(const std::vector<Animal>& animals, std::optional<Count> Animal::*when) {
  std::vector<Count> result;
  for (const Animal& animal : animals)
    if (animal.*when)
      result.push_back(*(animal.*when));
  return result;
}

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
  analysis.before = summarise(counts(control.animals, &Animal::before));
  analysis.after = summarise(counts(control.animals, &Animal::after));
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

/// The evidence by each design that the group allows, the one shown first in front.
std::vector<Evidence> evidence_of(const Group& group, const Group* control,
                                  const AnalysisSettings& settings,
                                  const BootstrapSettings& bootstrap) {
  const auto first = settings.design ? settings.design : preferred_design(group, control);
  std::vector<Evidence> all;
  const auto add = [&](Design design) {
    if (auto comparison = compare(design, group, control))
      all.emplace_back(std::move(*comparison), bootstrap, settings.priors);
  };
  if (first)
    add(*first);
  if (all.empty())
    return all; // the design asked for cannot be had: say so, rather than show another
  for (const Design design : all_designs)
    if (design != *first)
      add(design);
  return all;
}

const Evidence& evidence_for(const Criteria& criteria, const std::vector<Evidence>& all) {
  // The 1992 rule compares the treated with the control group after treatment;
  // the counts before stand in for a missing control.
  if (criteria.method == Method::log_ratio_1992)
    for (const Evidence& evidence : all)
      if (evidence.comparison().design == Design::two_group)
        return evidence;
  return all.front();
}

Verdict judge(const Criteria& criteria, const Group& group, const std::vector<Evidence>& all) {
  const CutOffChoice choice = choose_cut_off(criteria, group);
  if (choice.cut_off == nullptr || all.empty())
    return classify(criteria, choice, std::nullopt, {});
  const Evidence& evidence = evidence_for(criteria, all);
  Verdict verdict = classify(criteria, choice, evidence.reduction(),
                             criteria.method ? evidence.interval(*criteria.method, criteria.level)
                                             : evidence.headline(criteria.level));
  verdict.design = evidence.comparison().design;
  return verdict;
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
  analysis.before = summarise(counts(group.animals, &Animal::before));
  analysis.after = summarise(counts(group.animals, &Animal::after));

  const std::vector<Evidence> all = evidence_of(group, control, settings, bootstrap);
  if (!all.empty()) {
    const Comparison& comparison = all.front().comparison();
    const Arm& treated = comparison.arms.front();
    DesignEstimate first = estimate(all.front(), settings.level);
    analysis.design = first.design;
    analysis.reduction = first.reduction;
    analysis.headline = std::move(first.headline);
    analysis.intervals = std::move(first.intervals);
    analysis.animals = treated.above.size();
    analysis.after = summarise(treated.above);
    if (!treated.below.empty())
      analysis.before = summarise(treated.below);
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
    analysis.verdicts.push_back(judge(criteria, group, all));
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

/// The criteria with the one asked for in front.
CutOffs ordered(CutOffs cut_offs, const std::string& first) {
  if (cut_offs.criteria.empty())
    throw InputError("no criteria to judge by; expected at least one");
  if (first.empty())
    return cut_offs;
  const auto found = std::ranges::find(cut_offs.criteria, first, &Criteria::name);
  if (found == cut_offs.criteria.end()) {
    std::string names;
    for (const Criteria& criteria : cut_offs.criteria)
      names += (names.empty() ? "" : ", ") + criteria.name;
    throw InputError(
        fmt::format("--criteria: found {}; expected one of {}", in_quotes(first), names));
  }
  std::rotate(cut_offs.criteria.begin(), found, found + 1);
  return cut_offs;
}

} // namespace

SampleSummary summarise(const std::vector<Count>& counts) {
  SampleSummary summary;
  const PooledCount total = pooled(counts);
  summary.animals = total.animals;
  summary.animals_mixed = total.animals_mixed;
  summary.eggs = total.eggs;
  summary.factor = total.factor;
  if (counts.empty())
    return summary;
  double epg = 0;
  std::vector<std::uint32_t> eggs;
  for (const Count& count : counts) {
    epg += count.epg() * count.animals;
    eggs.push_back(count.eggs.value());
  }
  summary.mean_epg = epg / static_cast<double>(total.animals_mixed);
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
