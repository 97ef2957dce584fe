#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_text.hpp"

#include "support/support.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace eggfall;

namespace {

TrialAnalysis sample_result() {
  Group control = support::group("C", {}, trial_a::control, 15, 15);
  control.role = Role::control;
  Group odd = support::group("a \"quoted\", long-named group of animals \xC3\xA9", {0, 0}, {1, 0});
  odd.drench = "a drench with a name that goes on and on until it does not fit the line at all";
  return analyse({"t", {support::group("T", trial_a::before, trial_a::after, 15, 5), odd, control}},
                 published_cut_offs(), {});
}

} // namespace

TEST_CASE("The summary fits 80 columns, brief and full") {
  for (const Verbosity verbosity : {Verbosity::brief, Verbosity::full}) {
    std::istringstream lines(analysis_summary(sample_result(), verbosity));
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK(character_count(line) <= 80);
    }
  }
}

TEST_CASE("The brief summary has two caveats a group and counts the rest") {
  const TrialAnalysis result = sample_result();
  const std::string text = analysis_summary(result, Verbosity::brief);
  CHECK(text.find("more with --verbose)") != std::string::npos);
  const std::string full = analysis_summary(result, Verbosity::full);
  for (const GroupAnalysis& group : result.groups)
    for (const Interval& interval : group.evidence.intervals)
      CHECK(full.find(title(interval.method)) != std::string::npos);
}

TEST_CASE("JSON keeps the schema, and a missing number is null") {
  AnalysisSettings settings;
  const auto json = nlohmann::json::parse(analysis_json({sample_result()}, settings));
  CHECK(json["schema"] == "eggfall.analysis/1");
  CHECK(json["settings"]["seed"] == 1);
  const auto& groups = json["trials"][0]["groups"];
  REQUIRE(groups.size() == 2);
  for (const auto& group : groups)
    for (const char* key : {"group", "design", "animals", "eggs_before", "eggs_after",
                            "mean_epg_before", "mean_epg_after", "reduction_percent", "intervals",
                            "verdicts", "probabilities", "caveats", "dropped", "worms"})
      CHECK(group.contains(key));
  CHECK(groups[1]["reduction_percent"].is_null());
  CHECK_THAT(groups[0]["reduction_percent"].get<double>(),
             support::close_to(100 * (1 - 8.0 / 188 / 3)));
  for (const auto& interval : groups[0]["intervals"]) {
    CHECK(interval["usable"].get<bool>() == interval["lower_percent"].is_number());
    CHECK(interval["usable"].get<bool>() == interval["why_not"].is_null());
  }
}

TEST_CASE("CSV has one row a group and method, of even width") {
  const TrialAnalysis result = sample_result();
  const std::string text = analysis_csv({result});
  std::size_t rows = 1;
  for (const GroupAnalysis& group : result.groups)
    rows += std::max<std::size_t>(1, group.evidence.intervals.size());
  CHECK(static_cast<std::size_t>(std::ranges::count(text, '\n')) == rows);
  CHECK(text.find("\"a \"\"quoted\"\", long-named group of animals \xC3\xA9\"") !=
        std::string::npos);
  std::istringstream lines(text);
  std::string line;
  std::getline(lines, line);
  const auto commas = std::ranges::count(line, ',');
  std::getline(lines, line); // the first group's cells hold no comma
  CHECK(std::ranges::count(line, ',') == commas);
}
