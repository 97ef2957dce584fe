#include "eggfall/survey/survey_row.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/random_stream.hpp"
#include "judgement/gather_evidence.hpp"
#include "judgement/judge.hpp"
#include "trial/egg_kinds.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall {
namespace {

/// All that tells a group from another, but not its animals and cultures.
Group described(const Group& group) {
  Group result;
  result.name = group.name;
  result.role = group.role;
  result.drench = group.drench;
  result.classes = group.classes;
  result.host = group.host;
  result.worm = group.worm;
  result.region = group.region;
  result.year = group.year;
  return result;
}

SurveyRow row_of(const Group& group, const Group* control, const SurveySettings& settings,
                 const BootstrapSettings& bootstrap) {
  SurveyRow row;
  const std::vector<Evidence> all =
      evidence_by_design(group, control, std::nullopt, bootstrap, settings.priors);
  const Evidence* evidence = evidence_judged_by(settings.criteria, all);
  const Comparison* comparison = evidence != nullptr ? &evidence->comparison() : nullptr;
  const TreatedCounts shown = treated_counts(group, comparison);
  if (!shown.before.empty())
    row.eggs_before = totals_of(shown.before).eggs;
  if (!shown.after.empty())
    row.eggs_after = totals_of(shown.after).eggs;
  row.mean_epg_before = mean_epg(shown.before);
  row.mean_epg_after = mean_epg(shown.after);
  Verdict verdict = judge(settings.criteria, group, evidence);
  if (evidence != nullptr) {
    row.design = comparison->design;
    row.animals = shown.after.size();
    row.reduction = evidence->reduction();
    row.interval =
        verdict.interval ? std::move(verdict.interval) : interval_for(settings.criteria, *evidence);
  }
  row.verdict_class = verdict.verdict_class;
  if (row.verdict_class == VerdictClass::not_applicable)
    row.reason = std::move(verdict.reason);
  return row;
}

} // namespace

std::vector<SurveyRow> survey_rows(const Trial& trial, std::uint64_t trial_number,
                                   const SurveySettings& settings) {
  std::vector<SurveyRow> rows;
  const Group* control = control_of(trial);
  for (const Group& group : trial.groups) {
    if (group.role != Role::treated)
      continue;
    SurveyRow row;
    try {
      row = row_of(group, control, settings,
                   {settings.resamples, settings.seed, stream_group(trial.name, group.name)});
    } catch (const CalculationError& error) { // must not end a survey of thousands
      row.reason = fmt::format("the calculation failed: {}", error.what());
    }
    row.group = described(group);
    row.kinds = kinds_told_apart(group);
    row.trial_number = trial_number;
    row.trial = trial.name;
    rows.push_back(std::move(row));
  }
  return rows;
}

} // namespace eggfall
