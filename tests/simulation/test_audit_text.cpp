#include "simulation/audit_text.hpp"

#include "simulation/invented_audit.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <cstddef>
#include <sstream>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_audit;

namespace {

/// The farm of 98% alone, with a title and a name for its criterion.
AuditResult one_cell() {
  AuditResult result = two_cells();
  result.farms.resize(1);
  AuditCriterion& criterion = result.settings.criteria.front();
  criterion.name = "by-hand";
  criterion.title = "By hand";
  criterion.method = resampled;
  return result;
}

/// Lines joined, so that a sentence is found wherever it is broken.
std::string words(const std::string& text) {
  std::istringstream in(text);
  std::string joined;
  for (std::string word; in >> word;)
    joined += (joined.empty() ? "" : " ") + word;
  return joined;
}

std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(csv);
  for (std::string line; std::getline(lines, line);) {
    CHECK(line.ends_with('\r'));
    line.pop_back();
    std::vector<std::string> farms{""};
    for (const char c : line) // none of the farms holds a comma
      if (c == ',')
        farms.emplace_back();
      else
        farms.back() += c;
    rows.push_back(farms);
  }
  return rows;
}

std::string cell_of(const std::vector<std::vector<std::string>>& rows, std::size_t row,
                    const std::string& head) {
  const auto found = std::ranges::find(rows.front(), head);
  REQUIRE(found != rows.front().end());
  return rows.at(row).at(static_cast<std::size_t>(found - rows.front().begin()));
}

} // namespace

TEST_CASE("What is unusual about a cell is told, and nothing else") {
  AuditFarm plain;
  CHECK(unusual(plain).empty());
  const auto told = [](auto&& change) {
    AuditFarm changed;
    change(changed.model);
    return unusual(changed);
  };
  CHECK(told([](CountModel& m) { m.shape = LevelShape::log_normal; }) == "log-normal levels");
  CHECK(told([](CountModel& m) { m.k_after = 0.3; }) == "k 0.3 after treatment");
  CHECK(told([](CountModel& m) { m.efficacy_cv = 1.5; }) == "what is left varies by 1.5");
  CHECK(told([](CountModel& m) { m.undosed = 0.04; }) == "4% not dosed");
  CHECK(told([](CountModel& m) { m.underdosed = 0.33; }) == "33% given too little");
  CHECK(told([](CountModel& m) { m.weighing_cv = 0.2; }) ==
        "faeces weighed with a variation of 0.2");
  CHECK(told([](CountModel& m) { m.without_worms = 0.1; }) == "10% without worms");
  CHECK(told([](CountModel& m) { m.missing_after = 0.2; }) == "20% not found again");
  CHECK(told([](CountModel& m) { m.animals_in_pool = 10; }) == "pools of 10");
  CHECK(told([](CountModel& m) { m.worm_share = 0.1; }) ==
        "the worm lays 10% of the eggs, the others fall by 99%, 100 larvae told apart");
  CHECK(told([](CountModel& m) { m.season_change = 0.5; }) == "counts times 0.5 by the season");
  CHECK(told([](CountModel& m) { m.counts_a_sample = 3; }) == "3 counts a sample");
  CHECK(told([](CountModel& m) { m.factor_after = MultiplicationFactor(5); }) ==
        "factor 15 before and 5 after");
  CHECK(told([](CountModel& m) {
          m.undosed = 0.04;
          m.animals_in_pool = 10;
        }) == "4% not dosed, pools of 10");
}

TEST_CASE("The text of one cell holds its coverage, its classes and what they are worth") {
  const std::string text = audit_text(one_cell(), Verbosity::brief);
  // 90 of the 100 estimable trials; p = 90.5/101, sqrt(p (1 - p) / 101) = 0.0304. The truth lay
  // above 4 intervals (p = 4.5/101: 0.0205) and below 2 (p = 2.5/101: 0.0155), 4 had no limits, and
  // 960 points are the width of 96.
  CHECK_THAT(words(text),
             Catch::Contains("bootstrap, BCa 90.0 (3.0) 4.0 (2.1) 2.0 (1.5) 4.0 10.0"));
  // Of all 110 trials: 50, 3, 8, 0, 39 and 10.
  CHECK_THAT(words(text), Catch::Contains("By hand 45.5 2.7 7.3 0.0 35.5 9.1"));
  // 98% is at or above the expected 95%: 11 of 110 claim resistance, 53 show that it works.
  CHECK_THAT(words(text),
             Catch::Contains("By By hand (expected 95%, lower 90%) this counts as a drench that "
                             "works. 10 of 100 such trials claim resistance, wrongly (the rule "
                             "means to allow 5); 48 of 100 show that it works. 35 of 100 cannot "
                             "tell."));
  CHECK_THAT(words(text), Catch::Contains("10 trials had no egg to compare with"));
  // The other interval's classes are for those who ask: 60 and 5 of 110.
  CHECK_THAT(words(text), !Catch::Contains("54.5 4.5"));
  CHECK_THAT(words(audit_text(one_cell(), Verbosity::full)), Catch::Contains("54.5 4.5"));
}

TEST_CASE("A drench that fails, and one between the thresholds, are read otherwise") {
  AuditResult result = one_cell();
  result.farms.front().farm.model.efficacy = 0.80;
  CHECK_THAT(words(audit_text(result, Verbosity::brief)),
             Catch::Contains("this counts as a failure. 48 of 100 such trials claim that it works, "
                             "wrongly (the rule means to allow 5); 10 of 100 show the failure."));
  result.farms.front().farm.model.efficacy = 0.92;
  CHECK_THAT(words(audit_text(result, Verbosity::brief)),
             Catch::Contains("this lies between the thresholds, where neither claim is wrong. 10 "
                             "of 100 such trials show resistance, 48 of 100 show good efficacy."));
}

TEST_CASE("The text of several cells sums up each method, and knows a part for a part") {
  AuditResult result = two_cells();
  const std::string text = words(audit_text(result, Verbosity::brief));
  // Mean of 90 and 75; the worst, 150 of 200, p = 150.5/201: 0.0306; one farm below 88; mean of
  // 4/100 and 20/200 without limits; of widths 10 and 20.
  CHECK_THAT(text, Catch::Contains("bootstrap, BCa 82.5 75.0 (3.1) 1 7.0 15.0"));
  // Above the truth: mean of 2/100 and 10/200, the worst 10 of 200 (p = 10.5/201: 0.0157). Below
  // it: mean of 4/100 and 20/200, the worst 20 of 200 (p = 20.5/201: 0.0213).
  CHECK_THAT(text, Catch::Contains("bootstrap, BCa 3.5 5.0 (1.6) 7.0 10.0 (2.1)"));
  CHECK_THAT(text, Catch::Contains("The bootstrap, BCa flatters most with 15 animals, 10 eggs, k "
                                   "0.7, within 0.5, efficacy 80.0%. It lies below most often "
                                   "with 15 animals, 10 eggs, k 0.7, within 0.5, efficacy 80.0%."));
  CHECK_THAT(text, !Catch::Contains("This is part"));
  result.shard = {2, 3};
  CHECK_THAT(words(audit_text(result, Verbosity::brief)), Catch::Contains("This is part 2 of 3"));
}

TEST_CASE("The CSV of an audit has a row a cell and method with the tallies") {
  const auto rows = rows_of(audit_csv(one_cell()));
  REQUIRE(rows.size() == 3);
  const auto farm = [&](std::size_t row, const std::string& head) {
    return cell_of(rows, row, head);
  };
  CHECK(farm(1, "design") == "paired");
  CHECK(farm(1, "shape") == "gamma");
  CHECK(farm(1, "true_efficacy_percent") == "98.000000");
  CHECK(farm(1, "k_after").empty());
  CHECK(farm(1, "trials") == "110");
  CHECK(farm(1, "without_estimate") == "10");
  CHECK(farm(1, "method") == "bootstrap-bca");
  CHECK(farm(1, "held") == "90");
  CHECK(farm(1, "truth_above") == "4");
  CHECK(farm(1, "truth_below") == "2");
  CHECK(farm(1, "unusable") == "4");
  CHECK(farm(1, "coverage_percent") == "90.000000");
  CHECK(farm(1, "mean_width_points") == "10.000000");
  CHECK(farm(1, "by-hand: low resistant") == "3");
  CHECK(farm(1, "by-hand: inconclusive") == "39");
  CHECK(farm(2, "method") == "pooled-count-exact");
  CHECK(farm(2, "mean_width_points") == "5.000000");
  CHECK(farm(2, "by-hand: resistant") == "20");
  // Without a usable interval there is no width.
  AuditResult none = one_cell();
  MethodTally& unusable = none.farms.front().tally.methods.front();
  unusable.held = unusable.truth_above = unusable.truth_below = 0;
  unusable.unusable = 100;
  unusable.width = 0;
  CHECK(cell_of(rows_of(audit_csv(none)), 1, "coverage_percent") == "0.000000");
  CHECK(cell_of(rows_of(audit_csv(none)), 1, "mean_width_points").empty());
}

TEST_CASE("A page's notes tell what one cell saw and what its verdicts are worth") {
  AuditResult result = two_cells();
  result.farms.resize(1);
  result.farms[0].tally.none_after = 25;
  result.farms[0].tally.reduction = 97 * 100 * 1'000'000LL; // 97 points in each of 100 trials
  result.settings.criteria[0].method = resampled;
  result.settings.criteria[0].title = "Invented";
  const std::vector<std::string> notes = audit_notes(result);
  REQUIRE(notes.size() == 4);
  CHECK(notes[0] == farm_words(result.farms[0].farm) + ".");
  CHECK(notes[1] == "Seen: no egg after treatment in 25 of 100 trials; mean fall 97.0%.");
  CHECK(notes[2] == "Left out: 10 trials had no egg to compare with.");
  // The same words as on the screen.
  CHECK_THAT(notes[3], Catch::StartsWith("By Invented (expected 95%, lower 90%) this counts as a "
                                         "drench that works."));
  CHECK_THAT(words(audit_text(result, Verbosity::brief)), Catch::Contains(notes[3]));
}

TEST_CASE("A page of many cells has notes on cut-offs from memory, or on the parts of a job") {
  AuditResult result = two_cells();
  result.settings.criteria[0].title = "Invented";
  result.settings.criteria[0].cut_off.citation.provenance = Provenance::published;
  CHECK(audit_notes(result).empty());
  result.settings.criteria[0].cut_off.citation.provenance = Provenance::memory;
  REQUIRE(audit_notes(result).size() == 1);
  CHECK_THAT(audit_notes(result).front(),
             Catch::Contains("from memory") && Catch::Contains("Invented"));
  result.shard = {2, 5};
  CHECK(audit_notes(result) == std::vector<std::string>{"This is part 2 of 5: join all parts by "
                                                        "eggfall audit --merge."});
}
