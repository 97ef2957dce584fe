#include "eggfall/survey/survey_row.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "judgement/analyse_control.hpp"
#include "judgement/decide_standing.hpp"
#include "judgement/find_bars.hpp"
#include "judgement/gather_evidence.hpp"
#include "judgement/judge.hpp"
#include "judgement/worm_analysis.hpp"
#include "trial/egg_kinds.hpp"
#include "trial/trial_time.hpp"
#include "trial/visits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

/// Whether what a bar says leaves the counts' fall the drench's own: few animals or eggs make its
/// law wide, and a worm that survives does not hide in the law but in the standing.
bool leaves_the_fall(const Bar& bar) {
  switch (bar.code) {
  case BarCode::few_animals:
  case BarCode::few_eggs:
  case BarCode::narrow_drench:
  case BarCode::surviving_worm:
    return true;
  case BarCode::not_covered:
  case BarCode::units_in_doubt:
  case BarCode::day:
  case BarCode::control:
  case BarCode::missing:
  case BarCode::dose:
  case BarCode::goat_dose:
    return false;
  }
  return false;
}

/// All that tells a group from another, but not its animals and cultures.
Group described(const Group& group) {
  Group result;
  result.name = group.name;
  result.role = group.role;
  result.drench = group.drench;
  result.classes = group.classes;
  result.host = group.host;
  result.worm = group.worm;
  result.farm = group.farm;
  result.region = group.region;
  result.year = group.year;
  return result;
}

/// What all groups of a trial are judged with.
struct TrialContext {
  const Trial& trial;
  CutOffs cut_offs; ///< The survey's criterion alone, and the sampling windows.
  AnalysisSettings settings;

  TrialContext(const Trial& surveyed, const SurveySettings& survey)
      : trial(surveyed), cut_offs{{survey.criteria}, survey.windows} {
    settings.level = survey.criteria.level;
    settings.simulations = 0;
    settings.priors = survey.priors;
    settings.units_confirmed = survey.units_confirmed;
  }

  const Criteria& criteria() const { return cut_offs.criteria.front(); }
};

/// The standing by the stages of analyse(), as far as it needs them.
Standing standing_in_survey(const Group& group, const std::vector<Evidence>& by_design,
                            const Verdict& verdict, const ControlAnalysis* control,
                            const TrialContext& context) {
  const FieldCheck field =
      check_field(group, by_design.empty() ? nullptr : &by_design.front().comparison(),
                  usual_days(context.cut_offs, group, context.trial),
                  control != nullptr ? &control->days : nullptr);
  Judgement judgement;
  judgement.verdicts = {verdict};
  const std::optional<ToldSeason> season = shared_season(control, field);
  if (verdict.design == Design::paired)
    judgement.own_fall = own_fall(context.criteria(), group, by_design.front(), season);
  const JudgementContext judging{context.cut_offs, context.settings};
  const Group* const untreated = control != nullptr ? &control->group : nullptr;
  if (any_worm_told(group, untreated)) { // or the evidence that worms stand beside is not needed
    const GroupEvidence shown = shown_evidence(group, by_design, context.settings.level);
    judgement.worms = analyse_worms({group, shown, by_design, field, untreated, season}, judging,
                                    {context.cut_offs, context.criteria(), control, 1, {}});
  }
  return standing_of(judgement, {}, bars_of_group(group, judgement, field, by_design, judging));
}

/// `group` and `control` are on the day of the test; `control` may be nullptr.
SurveyRow row_of(const Group& group, const ControlAnalysis* control, const TrialContext& context) {
  SurveyRow row;
  const std::vector<Evidence> all = evidence_by_design(
      group, control != nullptr ? &control->group : nullptr, std::nullopt, context.settings.priors);
  const Evidence* evidence = evidence_judged_by(context.criteria(), all);
  const Comparison* comparison = evidence != nullptr ? &evidence->comparison() : nullptr;
  const TreatedCounts shown = treated_counts(group, comparison);
  if (!shown.before.empty())
    row.eggs_before = totals_of(shown.before).eggs;
  if (!shown.after.empty())
    row.eggs_after = totals_of(shown.after).eggs;
  row.mean_epg_before = mean_epg(shown.before);
  row.mean_epg_after = mean_epg(shown.after);
  const Verdict verdict = judge(context.criteria(), group, evidence);
  if (evidence != nullptr) {
    row.design = comparison->design;
    row.animals = shown.after.size();
    row.reduction = evidence->reduction();
    row.interval =
        verdict.interval ? verdict.interval : interval_for(context.criteria(), *evidence);
  }
  if (!all.empty())
    row.dated.counts = all.front().comparison();
  row.standing = standing_in_survey(group, all, verdict, control, context);
  if (verdict.verdict_class == VerdictClass::not_applicable)
    row.reason = verdict.reason;
  return row;
}

} // namespace

bool is_drenchs_own_fall(const SurveyRow& row) {
  return row.dated.counts && std::ranges::all_of(row.standing.bars, leaves_the_fall);
}

std::vector<SurveyRow> survey_rows(const Trial& trial, std::uint64_t trial_number,
                                   const SurveySettings& settings) {
  std::vector<SurveyRow> rows;
  const TrialContext context(trial, settings);
  const TestTime time = time_of(trial);
  ControlsByDay controls(control_of(trial), context.settings.priors);
  for (const Group& group : trial.groups) {
    if (group.role != Role::treated)
      continue;
    SurveyRow row;
    try {
      const std::optional<int> day = test_day(group, usual_days(context.cut_offs, group, trial));
      row = row_of(day ? on_visit(group, *day) : group, controls.on(day), context);
    } catch (const CalculationError& error) { // must not end a survey of thousands
      row.reason = fmt::format("the calculation failed: {}", error.what());
    }
    row.group = described(group);
    row.kinds = kinds_told_apart(group);
    row.trial_number = trial_number;
    row.trial = trial.name;
    row.dated.year = time.year;
    row.dated.day = time.day;
    rows.push_back(std::move(row));
  }
  return rows;
}

} // namespace eggfall
