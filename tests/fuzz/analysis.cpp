// A counts table, analysed: what was read can be used, whatever it says.
#include "counts_checks.hpp"
#include "harness.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/report/analysis_text.hpp"

#include <algorithm>

namespace {

/// Others would take too long, and show no more.
bool is_small(const eggfall::Trial& trial) {
  constexpr std::size_t most_groups = 3;
  constexpr std::size_t most_animals = 8;
  return trial.groups.size() <= most_groups &&
         std::ranges::all_of(trial.groups, [](const eggfall::Group& group) {
           return group.animals.size() <= most_animals;
         });
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  static const eggfall::CutOffs cut_offs = eggfall::published_cut_offs();
  const eggfall::TrialTable table = eggfall::read_trials(bytes, "t.csv", with_factor());
  if (table.trials.size() > 1 || !is_small(table.trials.front()))
    return;
  eggfall::AnalysisSettings settings;
  settings.simulations = 1;
  const eggfall::TrialAnalysis analysis = accepted("a trial can be analysed", [&] {
    return eggfall::analyse(table.trials.front(), cut_offs, settings);
  });
  for (const eggfall::GroupAnalysis& group : analysis.groups)
    for (const eggfall::Interval& interval : group.evidence.intervals)
      promise(!interval.usable() || *interval.lower <= *interval.upper,
              "no lower limit is above its upper one");
  promise(!eggfall::analysis_summary(analysis, eggfall::Verbosity::brief).empty() &&
              !eggfall::analysis_summary(analysis, eggfall::Verbosity::full).empty() &&
              !eggfall::analysis_json({analysis}, settings).empty() &&
              !eggfall::analysis_csv({analysis}).empty() &&
              !eggfall::analysis_report({analysis}, settings).empty(),
          "an analysis can be written");
}
