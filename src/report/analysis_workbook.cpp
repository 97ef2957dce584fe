#include "report/analysis_workbook.hpp"

#include "eggfall/base/percent.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "report/result_words.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace eggfall {
namespace {

using Row = std::vector<ResultCell>;

ResultCell cell_text(std::string_view value) {
  return value.empty() ? ResultCell() : ResultCell(std::string(value));
}

ResultCell count(std::uint64_t value) {
  return value;
}

ResultCell percent_cell(const std::optional<double>& proportion) {
  return proportion ? ResultCell(InPercent{*proportion}) : ResultCell();
}

template <typename T> ResultCell or_nothing(const std::optional<T>& value) {
  return value ? ResultCell(*value) : ResultCell();
}

ResultCell or_nothing(const std::optional<Design>& design) {
  return design ? cell_text(to_string(*design)) : ResultCell();
}

ResultCell days(const std::optional<int>& value) {
  return value ? ResultCell(static_cast<double>(*value)) : ResultCell();
}

Row joined(Row first, Row rest) {
  std::ranges::move(rest, std::back_inserter(first));
  return first;
}

ResultCell eggs(const SampleSummary& sample) {
  return sample.animals > 0 ? count(sample.eggs) : ResultCell();
}

/// What both sides of a comparison gave, and the fall.
Row compared_cells(const GroupAnalysis& group) {
  return {eggs(group.evidence.before), eggs(group.evidence.after),
          or_nothing(group.evidence.before.mean_epg), or_nothing(group.evidence.after.mean_epg),
          percent_cell(group.evidence.reduction)};
}

Row compared_cells(const WormAnalysis& worm) {
  return {or_nothing(found_before(worm).eggs), or_nothing(found_after(worm).eggs),
          or_nothing(found_before(worm).mean_epg), or_nothing(found_after(worm).mean_epg),
          percent_cell(worm.evidence.reduction)};
}

/// The cells that stand before those of an interval; `compared` and `verdict` are of the group or
/// of one of its worms.
Row before_interval(const TrialAnalysis& trial, const GroupAnalysis& group, Row compared,
                    const Verdict& verdict) {
  Row row = joined({cell_text(trial.trial), cell_text(group.evidence.group.name),
                    or_nothing(group.evidence.design), count(group.evidence.animals)},
                   std::move(compared));
  return joined(std::move(row),
                {cell_text(verdict.criteria), cell_text(to_string(verdict.verdict_class))});
}

/// Those that stand behind them.
Row after_interval(const std::string& worm, const Standing& standing) {
  return {cell_text(worm), cell_text(to_string(standing.verdict_class)),
          cell_text(bar_codes(standing))};
}

void add_intervals(ResultSheet& sheet, const Row& first, const std::vector<Interval>& intervals,
                   const Row& last) {
  for (const Interval& interval : intervals)
    sheet.rows.push_back(
        joined(joined(first, {cell_text(to_string(interval.method)), interval.level,
                              percent_cell(interval.lower), percent_cell(interval.upper),
                              interval.usable(), cell_text(interval.why_not)}),
               last));
  if (intervals.empty())
    sheet.rows.push_back(joined(
        joined(first, {{}, {}, {}, {}, false, cell_text("nothing could be compared")}), last));
}

/// The interval shown first, if there is one.
Row headline_cells(const GroupAnalysis& group) {
  if (!group.evidence.design)
    return {{}, {}, {}, {}};
  const Interval& interval = group.evidence.headline;
  return {cell_text(to_string(interval.method)), interval.level, percent_cell(interval.lower),
          percent_cell(interval.upper)};
}

ResultSheet groups_sheet(const std::vector<TrialAnalysis>& trials) {
  ResultSheet sheet{"Groups",
                    {"trial",
                     "group",
                     "drench",
                     "class",
                     "host",
                     "worm",
                     "design",
                     "animals",
                     "eggs_before",
                     "eggs_after",
                     "mean_epg_before",
                     "mean_epg_after",
                     "reduction_percent",
                     "method",
                     "level",
                     "lower_percent",
                     "upper_percent",
                     "criteria",
                     "verdict",
                     "reason",
                     "next_step",
                     "standing",
                     "bars"},
                    {}};
  for (const TrialAnalysis& trial : trials)
    for (const GroupAnalysis& group : trial.groups) {
      const Verdict& verdict = group.judgement.first_verdict();
      Row row = {cell_text(trial.trial),
                 cell_text(group.evidence.group.name),
                 cell_text(group.evidence.group.drench),
                 cell_text(to_string(group.evidence.group.classes)),
                 cell_text(group.evidence.group.host),
                 cell_text(group.evidence.group.worm),
                 or_nothing(group.evidence.design),
                 count(group.evidence.animals)};
      row = joined(std::move(row), compared_cells(group));
      row = joined(std::move(row), headline_cells(group));
      sheet.rows.push_back(joined(
          std::move(row), {cell_text(verdict.criteria), cell_text(to_string(verdict.verdict_class)),
                           cell_text(verdict.reason), cell_text(group.advice.next_step.text()),
                           cell_text(to_string(group.judgement.standing.verdict_class)),
                           cell_text(bar_codes(group.judgement.standing))}));
    }
  return sheet;
}

void add_verdicts(ResultSheet& sheet, const TrialAnalysis& trial, const GroupAnalysis& group,
                  const std::vector<Verdict>& verdicts, const std::string& worm) {
  for (const Verdict& verdict : verdicts) {
    const std::optional<Interval>& interval = verdict.interval;
    sheet.rows.push_back(
        {cell_text(trial.trial), cell_text(group.evidence.group.name), cell_text(worm),
         cell_text(verdict.criteria), cell_text(to_string(verdict.verdict_class)),
         or_nothing(verdict.design), percent_cell(verdict.reduction),
         percent_cell(verdict.expected), percent_cell(verdict.lower),
         interval ? cell_text(to_string(interval->method)) : ResultCell(),
         interval ? ResultCell(interval->level) : ResultCell(),
         interval ? percent_cell(interval->lower) : ResultCell(),
         interval ? percent_cell(interval->upper) : ResultCell(), cell_text(verdict.reason),
         cell_text(verdict.citation.source), cell_text(to_string(verdict.citation.provenance))});
  }
}

ResultSheet verdicts_sheet(const std::vector<TrialAnalysis>& trials) {
  ResultSheet sheet{"Verdicts",
                    {"trial", "group", "worm", "criteria", "class", "design", "reduction_percent",
                     "expected_percent", "lower_percent", "method", "level",
                     "interval_lower_percent", "interval_upper_percent", "reason", "source",
                     "provenance"},
                    {}};
  for (const TrialAnalysis& trial : trials)
    for (const GroupAnalysis& group : trial.groups) {
      add_verdicts(sheet, trial, group, group.judgement.verdicts, {});
      for (const WormAnalysis& worm : group.judgement.worms)
        add_verdicts(sheet, trial, group, worm.judgement.verdicts, worm.worm);
    }
  return sheet;
}

/// Why an animal was left out of a comparison, if it was.
ResultCell why_left_out(const GroupAnalysis& group, const std::string& animal, Role role) {
  for (const DroppedAnimal& dropped : group.evidence.dropped)
    if (dropped.animal == animal && dropped.role == role)
      return cell_text(dropped.reason);
  return {};
}

Row animal_cells(const AnimalResult& animal) {
  const auto eggs_of = [](const std::optional<Count>& each) {
    return each ? count(each->eggs.value()) : ResultCell();
  };
  const auto epg_of = [](const std::optional<Count>& each) {
    return each ? ResultCell(each->epg()) : ResultCell();
  };
  return {cell_text(animal.animal), eggs_of(animal.before), eggs_of(animal.after),
          epg_of(animal.before),    epg_of(animal.after),   percent_cell(animal.reduction)};
}

ResultSheet animals_sheet(const std::vector<TrialAnalysis>& trials) {
  ResultSheet sheet{"Animals",
                    {"trial", "group", "role", "animal", "eggs_before", "eggs_after", "epg_before",
                     "epg_after", "reduction_percent", "dose_of_label_percent", "mg_per_kg",
                     "days_after", "left_out"},
                    {}};
  for (const TrialAnalysis& trial : trials) {
    for (const GroupAnalysis& group : trial.groups)
      for (std::size_t i = 0; i < group.evidence.animal_results.size(); ++i) {
        const AnimalResult& animal = group.evidence.animal_results[i];
        const AnimalDose& dose = group.field.doses.animals.at(i);
        Row row = joined(
            {cell_text(trial.trial), cell_text(group.evidence.group.name), cell_text("treated")},
            animal_cells(animal));
        sheet.rows.push_back(
            joined(std::move(row), {percent_cell(dose.share), or_nothing(dose.mg_per_kg),
                                    days(group.field.days.animals.at(i).after),
                                    why_left_out(group, animal.animal, Role::treated)}));
      }
    if (!trial.control)
      continue;
    for (const AnimalResult& animal : trial.control->animal_results) {
      Row row = joined(
          {cell_text(trial.trial), cell_text(trial.control->group.name), cell_text("control")},
          animal_cells(animal));
      sheet.rows.push_back(joined(std::move(row), {{}, {}, {}, {}}));
    }
  }
  return sheet;
}

void add_caveats(ResultSheet& sheet, const TrialAnalysis& trial, const GroupAnalysis& group,
                 const std::vector<Caveat>& caveats, const std::string& worm) {
  for (const Caveat& caveat : caveats)
    sheet.rows.push_back({cell_text(trial.trial), cell_text(group.evidence.group.name),
                          cell_text(worm), cell_text(to_string(caveat.severity)),
                          cell_text(to_string(caveat.code)), cell_text(caveat.text)});
}

ResultSheet caveats_sheet(const std::vector<TrialAnalysis>& trials) {
  ResultSheet sheet{"Caveats", {"trial", "group", "worm", "severity", "code", "text"}, {}};
  for (const TrialAnalysis& trial : trials)
    for (const GroupAnalysis& group : trial.groups) {
      add_caveats(sheet, trial, group, group.caveats, {});
      for (const WormAnalysis& worm : group.judgement.worms)
        add_caveats(sheet, trial, group, worm.caveats, worm.worm);
    }
  return sheet;
}

void add_visits(ResultSheet& sheet, const TrialAnalysis& trial, const std::string& group,
                std::string_view role, const std::vector<VisitFall>& visits,
                const std::optional<EggReappearance>& reappearance) {
  for (const VisitFall& visit : visits) {
    const ReappearanceChance* chance = nullptr;
    if (reappearance)
      for (const ReappearanceChance& each : reappearance->chances)
        if (each.day == visit.day)
          chance = &each;
    sheet.rows.push_back(
        {cell_text(trial.trial), cell_text(group), cell_text(role), days(visit.day), visit.is_test,
         count(visit.animals), count(visit.missing), count(visit.without_before),
         or_nothing(visit.mean_before), or_nothing(visit.mean_epg), percent_cell(visit.reduction),
         cell_text(to_string(visit.interval.method)), visit.interval.level,
         percent_cell(visit.interval.lower), percent_cell(visit.interval.upper),
         chance != nullptr ? percent_cell(chance->below) : ResultCell(),
         chance != nullptr ? percent_cell(chance->back_by) : ResultCell()});
  }
}

ResultSheet visits_sheet(const std::vector<TrialAnalysis>& trials) {
  ResultSheet sheet{"Visits",
                    {"trial", "group", "role", "day", "is_test", "animals", "missing",
                     "without_before", "mean_epg_before", "mean_epg", "reduction_percent", "method",
                     "level", "lower_percent", "upper_percent", "below_threshold_percent",
                     "back_by_percent"},
                    {}};
  for (const TrialAnalysis& trial : trials) {
    for (const GroupAnalysis& group : trial.groups)
      add_visits(sheet, trial, group.evidence.group.name, "treated", group.course.visits,
                 group.course.reappearance);
    if (trial.control)
      add_visits(sheet, trial, trial.control->group.name, "control", trial.control->visits, {});
  }
  return sheet;
}

ResultSheet settings_sheet(const AnalysisSettings& settings) {
  const PosteriorPriors& priors = settings.priors;
  return {"Settings",
          {"setting", "value"},
          {{cell_text("version"), cell_text(version())},
           {cell_text("level"), settings.level},
           {cell_text("seed"), count(settings.seed)},
           {cell_text("simulations"), count(settings.simulations)},
           {cell_text("within_animal_variation_scale"), priors.within_animals.scale},
           {cell_text("between_animal_variation_scale"), priors.mean.between_animals.scale},
           {cell_text("prior_middle_eggs"), priors.mean.middle_eggs},
           {cell_text("prior_cv_ratio"), priors.mean.cv_ratio},
           {cell_text("design"), or_nothing(settings.design)},
           {cell_text("criteria"), cell_text(settings.criteria)},
           {cell_text("units_confirmed"), cell_text(settings.units_confirmed ? "yes" : "no")}}};
}

} // namespace

double InPercent::percent() const {
  return in_percent(proportion);
}

ResultSheet intervals_sheet(const std::vector<TrialAnalysis>& trials) {
  ResultSheet sheet{
      "Intervals",
      {"trial",      "group",           "design",         "animals",           "eggs_before",
       "eggs_after", "mean_epg_before", "mean_epg_after", "reduction_percent", "criteria",
       "class",      "method",          "level",          "lower_percent",     "upper_percent",
       "usable",     "why_not",         "worm",           "standing",          "bars"},
      {}};
  for (const TrialAnalysis& trial : trials)
    for (const GroupAnalysis& group : trial.groups) {
      add_intervals(
          sheet,
          before_interval(trial, group, compared_cells(group), group.judgement.first_verdict()),
          group.evidence.intervals, after_interval({}, group.judgement.standing));
      for (const WormAnalysis& worm : group.judgement.worms)
        add_intervals(sheet, before_interval(trial, group, compared_cells(worm), verdict_of(worm)),
                      worm.evidence.intervals, after_interval(worm.worm, worm.judgement.standing));
    }
  return sheet;
}

std::vector<ResultSheet> analysis_sheets(const std::vector<TrialAnalysis>& trials,
                                         const AnalysisSettings& settings) {
  std::vector<ResultSheet> sheets{groups_sheet(trials),   intervals_sheet(trials),
                                  verdicts_sheet(trials), animals_sheet(trials),
                                  caveats_sheet(trials),  settings_sheet(settings)};
  if (ResultSheet visits = visits_sheet(trials); !visits.rows.empty())
    sheets.insert(std::prev(sheets.end()), std::move(visits));
  return sheets;
}

} // namespace eggfall
