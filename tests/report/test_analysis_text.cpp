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

namespace {

/// Fifteen lambs without an egg left of 40 each, and without a group untreated.
Group good() {
  Group group = support::group("T", std::vector<std::uint32_t>(15, 40),
                               std::vector<std::uint32_t>(15, 0), 15, 15);
  group.classes = {DrugClass::bz};
  return group;
}

std::string screen(const Group& group) {
  AnalysisSettings settings;
  settings.simulations = 0;
  return analysis_summary(analyse({"t", {group}}, published_cut_offs(), settings),
                          Verbosity::brief);
}

} // namespace

TEST_CASE(
    "The heading tells a good drench from one to be taken with care, and a table from a rule") {
  CHECK_THAT(screen(good()), Catch::Contains(" SUSCEPTIBLE\n"));
  Group missing = good();
  missing.animals[3].after.reset(); // unchanged: 1 - 40/600 = 93.3%, below 95%
  CHECK_THAT(screen(missing), Catch::Contains(" SUSCEPTIBLE, WITH CARE\n"));
  CHECK_THAT(screen(support::group("T", {0, 0, 0}, {0, 0, 1}, 15, 15)),
             Catch::Contains(" NO ANSWER: NO EGGS TO BEGIN WITH\n"));
  Group horses = good();
  horses.host = "horses";
  horses.worm = "strongyles";
  horses.classes = {};
  CHECK_THAT(screen(horses), Catch::Contains(" NO ANSWER: CHECK THE TABLE\n"));
  Group epg = good();
  for (std::uint32_t i = 0; i < 15; ++i)
    epg.animals[i].before->eggs = EggsSeen(50 * (i + 1));
  CHECK_THAT(screen(epg), Catch::Contains(" NO ANSWER: CHECK THE TABLE\n") &&
                              Catch::Contains("none; by the counts alone, which prove nothing") &&
                              Catch::Contains("  Also      by the counts alone susceptible by "));
  // 15 animals of two eggs, half of them left: more likely failing than not, and not proven.
  std::vector<std::uint32_t> before{9, 2, 4, 1, 3, 7, 2, 5};
  std::vector<std::uint32_t> after{1, 0, 2, 0, 1, 1, 0, 1};
  const std::string leaning = screen(support::group("T", before, after, 50, 50));
  if (leaning.find("INCONCLUSIVE") != std::string::npos)
    CHECK_THAT(leaning, Catch::Contains(" INCONCLUSIVE, LOOKS POOR\n"));
}

TEST_CASE("Of a good class no warning is cut, of another two caveats are enough") {
  Group group = good();
  using namespace std::chrono;
  for (Animal& animal : group.animals) {
    animal.date_before = year(2031) / April / 15;
    animal.date_treated = year(2031) / May / 12; // 27 days
    animal.date_after = year(2031) / May / 21;
  }
  AnalysisSettings settings;
  settings.simulations = 0;
  const TrialAnalysis trial = analyse({"t", {group}}, published_cut_offs(), settings);
  const std::string text = flowing(analysis_summary(trial, Verbosity::brief));
  std::size_t warnings = 0;
  for (const Caveat& caveat : trial.groups[0].caveats)
    if (caveat.severity != Severity::note) {
      ++warnings;
      CHECK_THAT(text, Catch::Contains(caveat.text));
    }
  CHECK(warnings > 2);
  CHECK_THAT(text, Catch::Contains("taken up to 27 days before treatment") &&
                       !Catch::Contains("nothing speaks against this drench"));
}
