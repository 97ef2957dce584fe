#include "eggfall/report/analysis_text.hpp"

#include "base/text.hpp"

#include "support/support.hpp"
#include "support/written_trial.hpp"

#include <sstream>
#include <string>

using namespace eggfall;

TEST_CASE("The summary fits 80 columns, brief and full") {
  for (const Verbosity verbosity : {Verbosity::brief, Verbosity::full}) {
    std::istringstream lines(analysis_summary(support::written_trial(), verbosity));
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK(character_count(line) <= 80);
    }
  }
}

TEST_CASE("The brief summary has two caveats a group and counts the rest") {
  const TrialAnalysis result = support::written_trial();
  const std::string text = analysis_summary(result, Verbosity::brief);
  CHECK(text.find("more with --verbose)") != std::string::npos);
  const std::string full = analysis_summary(result, Verbosity::full);
  for (const GroupAnalysis& group : result.groups)
    for (const Interval& interval : group.evidence.intervals)
      CHECK(full.find(title(interval.method)) != std::string::npos);
}

TEST_CASE("The summary begins with what the trial is made of") {
  const auto first_line = [](const TrialAnalysis& trial) {
    const std::string text = analysis_summary(trial, Verbosity::brief);
    return text.substr(0, text.find('\n'));
  };
  CHECK(first_line(support::written_trial()) == "Trial t: 2 treated groups, one untreated control");
  AnalysisSettings settings;
  settings.simulations = 0;
  CHECK(first_line(analyse({"u", {support::group("T", trial_a::before, trial_a::after)}},
                           published_cut_offs(), settings)) ==
        "Trial u: 1 treated group, no untreated control");
}
