// A larvae table for a fixed trial, written and read back, and the worms judged.
#include "harness.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_text.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "trial/counts_table.hpp"

#include <string>
#include <vector>

namespace {

constexpr std::string_view counts = "group,animal,role,eggs_before,eggs_after\n"
                                    "clear drench,1,,20,2\n"
                                    "clear drench,2,,9,0\n"
                                    "clear drench,3,,31,4\n"
                                    "control,4,control,12,14\n"
                                    "control,5,control,25,19\n";

const std::vector<eggfall::Trial>& trials() {
  static const std::vector<eggfall::Trial> read = [] {
    eggfall::ReadOptions options;
    options.factor_before = options.factor_after = eggfall::MultiplicationFactor(15);
    options.host = "sheep";
    return eggfall::read_trials(counts, "counts.csv", options).trials;
  }();
  return read;
}

/// A larvae table of numbers can hold what was counted of one group alone.
bool can_be_written(const eggfall::Culture& culture) {
  return !culture.percentages && culture.mixed_groups.empty();
}

void check_written_and_read_back(const std::vector<eggfall::Trial>& cultured) {
  for (const eggfall::Group& group : cultured.front().groups)
    if (!can_be_written(group.culture_before) || !can_be_written(group.culture_after))
      return;
  const std::string written = eggfall::larvae_table(cultured);
  const std::string again = fuzz::accepted("a larvae table that was written is read", [&] {
    return eggfall::larvae_table(eggfall::read_cultures(written, "again.csv", trials()).trials);
  });
  fuzz::promise(again == written, "a larvae table that was written is read as the same larvae:\n" +
                                      written + "\n" + again);
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  static const eggfall::CutOffs cut_offs = eggfall::published_cut_offs();
  const eggfall::TrialTable table = eggfall::read_cultures(bytes, "larvae.csv", trials());
  check_written_and_read_back(table.trials);
  constexpr std::size_t most_worms = 4;
  const eggfall::Trial& trial = table.trials.front();
  if (trial.groups.front().culture_before.worms.size() > most_worms)
    return;
  eggfall::AnalysisSettings settings;
  settings.simulations = 0;
  const eggfall::TrialAnalysis analysis = accepted(
      "larvae can be analysed", [&] { return eggfall::analyse(trial, cut_offs, settings); });
  for (const eggfall::WormAnalysis& worm : analysis.groups.front().judgement.worms)
    for (const eggfall::Interval& interval : worm.evidence.intervals)
      promise(!interval.usable() || *interval.lower <= *interval.upper,
              "no lower limit is above its upper one");
  promise(!eggfall::analysis_summary(analysis, eggfall::Verbosity::full).empty(),
          "an analysis can be written");
}
