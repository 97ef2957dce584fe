#include "eggfall/write_csv.hpp"

#include <csv.h>
#include <fmt/format.h>

#include <initializer_list>
#include <string_view>

namespace eggfall {
namespace {

std::string cell(std::string_view text) {
  if (text.find_first_of("\",;\t\r\n") == std::string_view::npos)
    return std::string(text);
  std::string quoted(2 * text.size() + 2, '\0');
  quoted.resize(csv_write(quoted.data(), quoted.size(), text.data(), text.size()));
  return quoted;
}

template <typename T> std::string cell(const std::optional<T>& value) {
  return value ? fmt::format("{}", *value) : std::string();
}

std::string percent_cell(const std::optional<double>& proportion) {
  return proportion ? fmt::format("{:.6f}", 100 * *proportion) : std::string();
}

std::string join(std::initializer_list<std::string> cells) {
  std::string line;
  for (const std::string& text : cells)
    line += (line.empty() ? "" : ",") + text;
  return line;
}

std::string group_cells(const TrialAnalysis& trial, const GroupAnalysis& group) {
  const auto eggs = [](const SampleSummary& sample) {
    return sample.animals > 0 ? fmt::format("{}", sample.eggs) : std::string();
  };
  const Verdict& verdict = group.verdicts.front();
  return join({cell(trial.trial), cell(group.group.name),
               group.design ? std::string(to_string(*group.design)) : std::string(),
               fmt::format("{}", group.animals), eggs(group.before), eggs(group.after),
               cell(group.before.mean_epg), cell(group.after.mean_epg),
               percent_cell(group.reduction), cell(verdict.criteria),
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
                join({std::string(to_string(interval.method)), fmt::format("{}", interval.level),
                      percent_cell(interval.lower), percent_cell(interval.upper),
                      interval.usable() ? "true" : "false", cell(interval.why_not)}) +
                "\r\n";
      if (group.intervals.empty())
        text += first + ",,,,,false,nothing could be compared\r\n";
    }
  return text;
}

} // namespace eggfall
