#include "eggfall/write_csv.hpp"

#include "csv_row.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

std::string group_cells(const TrialAnalysis& trial, const GroupAnalysis& group) {
  const auto eggs = [](const SampleSummary& sample) {
    return sample.animals > 0 ? fmt::format("{}", sample.eggs) : std::string();
  };
  const Verdict& verdict = group.verdicts.front();
  return csv_row({csv_cell(trial.trial), csv_cell(group.group.name),
                  group.design ? std::string(to_string(*group.design)) : std::string(),
                  fmt::format("{}", group.animals), eggs(group.before), eggs(group.after),
                  csv_cell(group.before.mean_epg), csv_cell(group.after.mean_epg),
                  percent_csv_cell(group.reduction), csv_cell(verdict.criteria),
                  std::string(to_string(verdict.verdict_class))});
}

} // namespace

std::string analysis_csv(const std::vector<TrialAnalysis>& trials) {
  std::string text = "trial,group,design,animals,eggs_before,eggs_after,mean_epg_before,"
                     "mean_epg_after,reduction_percent,criteria,class,method,level,"
                     "lower_percent,upper_percent,usable,why_not\r\n";
  for (const TrialAnalysis& trial : trials)
    for (const GroupAnalysis& group : trial.groups) {
      const std::string first = group_cells(trial, group);
      for (const Interval& interval : group.intervals)
        text += first + ',' +
                csv_row({std::string(to_string(interval.method)), fmt::format("{}", interval.level),
                         percent_csv_cell(interval.lower), percent_csv_cell(interval.upper),
                         interval.usable() ? "true" : "false", csv_cell(interval.why_not)}) +
                "\r\n";
      if (group.intervals.empty())
        text += first + ",,,,,false,nothing could be compared\r\n";
    }
  return text;
}

} // namespace eggfall
