#include "eggfall/judgement/analyse.hpp"

#include "judgement/advise.hpp"
#include "judgement/analyse_control.hpp"
#include "judgement/caveats.hpp"
#include "judgement/decide_standing.hpp"
#include "judgement/egg_reappearance.hpp"
#include "judgement/find_bars.hpp"
#include "judgement/gather_evidence.hpp"
#include "judgement/judge.hpp"
#include "judgement/own_fall.hpp"
#include "judgement/reappearance_rows.hpp"
#include "judgement/visit_course.hpp"
#include "judgement/worm_analysis.hpp"
#include "trial/trial_lookup.hpp"
#include "trial/visits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

/// What a group of a trial is analysed with.
struct TrialContext {
  const Trial& trial;
  const Group* control; ///< As sampled on the day of the group's test; may be nullptr.
  const AnalysisSettings& settings;
  CaveatContext of_caveats;
};

/// The stages, one after another.
GroupAnalysis analyse_group(const Group& group, const TrialContext& context) {
  const AnalysisSettings& settings = context.settings;
  const CutOffs& cut_offs = context.of_caveats.cut_offs;
  const JudgementContext judging{cut_offs, settings};

  const std::vector<Evidence> by_design =
      evidence_by_design(group, context.control, settings.design, settings.priors);
  GroupEvidence evidence = shown_evidence(group, by_design, settings.level);
  FieldCheck field = check_field(
      group, by_design.empty() ? nullptr : &by_design.front().comparison(),
      usual_days(cut_offs, group, context.trial),
      context.of_caveats.control != nullptr ? &context.of_caveats.control->days : nullptr);
  const std::optional<ToldSeason> season = shared_season(context.of_caveats.control, field);
  Judgement judgement = judge_group(group, by_design, season, judging);
  judgement.worms = analyse_worms({group, evidence, by_design, field, context.control, season},
                                  judging, context.of_caveats);
  std::vector<Caveat> caveats = find_caveats(evidence, field, judgement, context.of_caveats);
  VisitCourse course{visit_falls(group, field.days, settings.priors, settings.level), {}};
  if (auto later = later_visit_caveat(course.visits, judgement.first_verdict()))
    caveats.insert(std::ranges::lower_bound(caveats, later->severity, {}, &Caveat::severity),
                   *std::move(later));
  decide(judgement, caveats, bars_of_group(group, judgement, field, by_design, judging), field);
  course.reappearance = egg_reappearance(published_egg_reappearance(), group, judgement,
                                         course.visits, settings.level);
  Advice advice = advise(evidence, field, judgement, caveats, course);
  return {std::move(evidence), std::move(field),  std::move(judgement),
          std::move(caveats),  std::move(advice), std::move(course)};
}

/// What a group brings into a comparison of drenches. Where a bar leaves it no class at all it was
/// no test of its drench, and it brings no law but that reason.
DrenchLaw drench_law(const GroupAnalysis& analysis) {
  const GroupEvidence& evidence = analysis.evidence;
  const Group& group = evidence.group;
  DrenchLaw drench{group.name,      group.classes,      group.host,        group.worm,
                   evidence.design, evidence.reduction, evidence.headline, evidence.law};
  if (const Standing& standing = analysis.judgement.standing; was_no_test(standing))
    drench.law = WhyNot{
        fmt::format("it was no test of its drench ({})", to_string(standing.bars.front().code))};
  return drench;
}

} // namespace

TrialAnalysis analyse(const Trial& trial, const CutOffs& cut_offs,
                      const AnalysisSettings& settings) {
  check_level(settings.level);
  const CutOffs criteria = with_criteria_first(cut_offs, settings.criteria);
  TrialAnalysis result;
  result.trial = trial.name;
  result.reading = trial.reading;
  ControlsByDay controls(control_of(trial), settings.priors);
  const ControlAnalysis* shown_control = nullptr;
  const std::size_t treated = treated_groups(trial);
  std::vector<DrenchLaw> drenches;
  bool season_is_shared = true;
  for (const Group& group : trial.groups) {
    if (group.role != Role::treated)
      continue;
    const std::optional<int> day = test_day(group, usual_days(criteria, group, trial));
    const ControlAnalysis* const control = controls.on(day);
    if (shown_control == nullptr)
      shown_control = control;
    const TrialContext context{trial,
                               control != nullptr ? &control->group : nullptr,
                               settings,
                               {criteria, criteria.criteria.front(), control, treated,
                                settings.design, first_treated(trial), settings.units_confirmed}};
    result.groups.push_back(analyse_group(day ? on_visit(group, *day) : group, context));
    drenches.push_back(drench_law(result.groups.back()));
    season_is_shared = season_is_shared && control == shown_control &&
                       shares_season(control, result.groups.back().field);
  }
  if (shown_control == nullptr)
    shown_control = controls.on(std::nullopt);
  if (shown_control != nullptr) {
    result.control = *shown_control;
    result.control->visits =
        visit_falls(shown_control->group, shown_control->days, settings.priors, settings.level);
  }
  if (drenches.size() > 1) {
    result.ranking = rank_drenches(drenches, settings.level);
    result.combinations = find_combinations(
        drenches, season_is_shared ? result.control->season : std::nullopt, settings.level);
  }
  return result;
}

std::size_t treated_groups(const Trial& trial) {
  return static_cast<std::size_t>(std::ranges::count(trial.groups, Role::treated, &Group::role));
}

std::size_t treated_groups(const std::vector<Trial>& trials) {
  std::size_t groups = 0;
  for (const Trial& trial : trials)
    groups += treated_groups(trial);
  return groups;
}

std::size_t default_simulations(std::size_t groups) {
  return groups > most_groups_simulated ? 0 : AnalysisSettings().simulations;
}

} // namespace eggfall
