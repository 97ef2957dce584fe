#include "eggfall/report/analysis_text.hpp"

#include "base/text.hpp"

#include "support/support.hpp"
#include "support/written_trial.hpp"

#include <algorithm>
#include <cstddef>
#include <sstream>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// Of one group: caveats that stand in the text, and the number of those that are left out.
struct ShownCaveats {
  std::size_t shown = 0;
  std::size_t more = 0;
};

std::vector<ShownCaveats> caveats_shown(const std::string& text) {
  std::vector<ShownCaveats> groups;
  std::istringstream lines(text);
  bool within = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("  Beware ")) {
      groups.emplace_back();
      within = true;
    } else if (!line.starts_with("   ")) {
      within = false;
    }
    if (!within)
      continue;
    const std::string entry = line.substr(std::min<std::size_t>(12, line.size()));
    groups.back().shown += entry.starts_with("- ") ? 1 : 0;
    if (entry.starts_with('(') && entry.ends_with(" more with --verbose)"))
      groups.back().more = std::stoul(entry.substr(1));
  }
  return groups;
}

} // namespace

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
  // Of each group: lines that begin a caveat below "Beware", and the number behind them.
  const auto caveats = caveats_shown(text);
  REQUIRE(caveats.size() == result.groups.size());
  std::size_t with_more = 0;
  for (std::size_t g = 0; g < caveats.size(); ++g) {
    const std::vector<Caveat>& of_group = result.groups[g].caveats;
    const std::size_t all = of_group.size();
    // Serious ones are never left out.
    const auto serious = static_cast<std::size_t>(
        std::ranges::count(of_group, Severity::serious, &Caveat::severity));
    INFO(all << " caveats in " << text);
    CHECK(caveats[g].shown == std::min(std::max<std::size_t>(2, serious), all));
    CHECK(caveats[g].shown + caveats[g].more == all);
    with_more += caveats[g].more > 0 ? 1 : 0;
  }
  CHECK(with_more > 0);
  const std::string full = analysis_summary(result, Verbosity::full);
  const auto all_shown = caveats_shown(full);
  REQUIRE(all_shown.size() == result.groups.size());
  for (std::size_t g = 0; g < all_shown.size(); ++g) {
    CHECK(all_shown[g].shown == result.groups[g].caveats.size());
    CHECK(all_shown[g].more == 0);
  }
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
