#include "eggfall/report/analysis_csv.hpp"

#include "support/support.hpp"
#include "support/written_trial.hpp"

#include <algorithm>
#include <cstddef>
#include <sstream>
#include <string>

using namespace eggfall;

namespace {

const std::string header =
    "trial,group,design,animals,eggs_before,eggs_after,mean_epg_before,mean_epg_after,"
    "reduction_percent,criteria,class,method,level,lower_percent,upper_percent,usable,why_not,"
    "worm,standing,bars\r\n";

/// One paired group of 10 and 2 eggs, judged and with one interval.
TrialAnalysis one_interval() {
  GroupAnalysis group;
  group.evidence.group.name = "g";
  group.evidence.design = Design::paired;
  group.evidence.animals = 1;
  group.evidence.before = summarise(support::counts({10}, 50));
  group.evidence.after = summarise(support::counts({2}, 50));
  group.evidence.reduction = 0.8;
  group.judgement.standing.verdict_class = VerdictClass::inconclusive;
  group.judgement.standing.bars = {{BarCode::control, "", "", ""}};
  Interval interval;
  interval.lower = -0.25;
  interval.upper = 0.9;
  group.evidence.intervals = {interval};
  Verdict verdict;
  verdict.criteria = "valley";
  verdict.verdict_class = VerdictClass::low_resistant;
  group.judgement.verdicts = {verdict};
  TrialAnalysis trial;
  trial.trial = "t";
  trial.groups = {group};
  return trial;
}

} // namespace

TEST_CASE("CSV has one row a group and method, of even width") {
  const TrialAnalysis result = support::written_trial();
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

TEST_CASE("A row of the CSV, cell by cell") {
  CHECK(analysis_csv({one_interval()}) ==
        header + "t,g,paired,1,10,2,500,100,80.000000,valley,low resistant,guarded-posterior,0.9,"
                 "-25.000000,90.000000,true,,,inconclusive,control\r\n");
  CHECK(analysis_csv({}) == header);
}

TEST_CASE("A group without an interval has a row that says so, with empty cells") {
  TrialAnalysis trial = one_interval();
  GroupEvidence& evidence = trial.groups[0].evidence;
  evidence = {};
  evidence.group.name = "=g";
  trial.groups[0].judgement.verdicts[0].verdict_class = VerdictClass::not_applicable;
  // The apostrophe keeps a spreadsheet from carrying the name out as a formula.
  CHECK(analysis_csv({trial}) == header + "t,'=g,,0,,,,,,valley,not applicable,,,,,false,nothing "
                                          "could be compared,,inconclusive,control\r\n");
}

TEST_CASE("Rows of worms follow those of their group, with the worm's own numbers") {
  TrialAnalysis trial = one_interval();
  WormAnalysis worm;
  worm.worm = "haemonchus";
  worm.evidence.design = Design::paired;
  worm.evidence.larvae = WormShares{{{9, 100}}, {{5, 100}}};
  worm.evidence.reduction = 0.5;
  Interval none;
  none.why_not = "too few larvae";
  worm.evidence.intervals = {none};
  worm.judgement.verdicts = trial.groups[0].judgement.verdicts;
  worm.judgement.standing.verdict_class = VerdictClass::resistant;
  trial.groups[0].judgement.worms = {worm};
  const std::string text = analysis_csv({trial});
  CHECK(text.ends_with("t,g,paired,1,,,,,50.000000,valley,low resistant,guarded-posterior,0.9,,,"
                       "false,too few larvae,haemonchus,resistant,\r\n"));
  CHECK(std::ranges::count(text, '\n') == 3);
}
