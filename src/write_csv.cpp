#include "eggfall/write_csv.hpp"

#include "csv_row.hpp"
#include "eggfall/worms.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

/// The cells of a group, or of one of its worms, that stand before those of an interval.
std::string first_cells(const TrialAnalysis& trial, const GroupAnalysis& group,
                        const std::optional<std::uint64_t>& eggs_before,
                        const std::optional<std::uint64_t>& eggs_after,
                        const std::optional<double>& epg_before,
                        const std::optional<double>& epg_after,
                        const std::optional<double>& reduction, const Verdict& verdict) {
  return csv_row({csv_cell(trial.trial), csv_cell(group.group.name),
                  group.design ? std::string(to_string(*group.design)) : std::string(),
                  fmt::format("{}", group.animals), csv_cell(eggs_before), csv_cell(eggs_after),
                  csv_cell(epg_before), csv_cell(epg_after), percent_csv_cell(reduction),
                  csv_cell(verdict.criteria), std::string(to_string(verdict.verdict_class))});
}

std::string rows(const std::string& first, const std::vector<Interval>& intervals,
                 const std::string& worm) {
  std::string text;
  for (const Interval& interval : intervals)
    text += first + ',' +
            csv_row({std::string(to_string(interval.method)), fmt::format("{}", interval.level),
                     percent_csv_cell(interval.lower), percent_csv_cell(interval.upper),
                     interval.usable() ? "true" : "false", csv_cell(interval.why_not),
                     csv_cell(worm)}) +
            "\r\n";
  if (intervals.empty())
    text += first + ",,,,,false,nothing could be compared," + csv_cell(worm) + "\r\n";
  return text;
}

std::string rows(const TrialAnalysis& trial, const GroupAnalysis& group) {
  const auto eggs = [](const SampleSummary& sample) {
    return sample.animals > 0 ? std::optional(sample.eggs) : std::nullopt;
  };
  std::string text =
      rows(first_cells(trial, group, eggs(group.before), eggs(group.after), group.before.mean_epg,
                       group.after.mean_epg, group.reduction, group.verdicts.front()),
           group.intervals, {});
  for (const WormAnalysis& worm : group.worms)
    text += rows(first_cells(trial, group, worm.eggs_before, worm.eggs_after, worm.mean_epg_before,
                             worm.mean_epg_after, worm.reduction, verdict_of(worm)),
                 worm.intervals, worm.worm);
  return text;
}

} // namespace

std::string analysis_csv(const std::vector<TrialAnalysis>& trials) {
  std::string text = "trial,group,design,animals,eggs_before,eggs_after,mean_epg_before,"
                     "mean_epg_after,reduction_percent,criteria,class,method,level,"
                     "lower_percent,upper_percent,usable,why_not,worm\r\n";
  for (const TrialAnalysis& trial : trials)
    for (const GroupAnalysis& group : trial.groups)
      text += rows(trial, group);
  return text;
}

} // namespace eggfall
