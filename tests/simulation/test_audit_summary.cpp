#include "eggfall/simulation/audit_summary.hpp"

#include "simulation/invented_audit.hpp"
#include "support/support.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_audit;

namespace {

constexpr double exactly = 1e-12;

/// Both farms of one design, judged by the resampled interval, as in two_cells().
AuditResult judged_by_resampling() {
  AuditResult result = two_cells();
  result.settings.criteria.front().method = resampled;
  return result;
}

void check_shares(const VerdictShares& found, const VerdictShares& expected) {
  for (std::size_t v = 0; v < verdict_classes; ++v) {
    INFO(to_string(all_verdict_classes[v]));
    CHECK_THAT(found[v], Catch::WithinAbs(expected[v], exactly));
  }
}

} // namespace

TEST_CASE("A share and its Monte Carlo error by hand") {
  const Share nine = share(9, 19);
  CHECK_THAT(nine.value, support::close_to(9.0 / 19, exactly));
  // p = 9.5/20 = 0.475: sqrt(0.475 x 0.525 / 20) = sqrt(0.01246875)
  CHECK_THAT(nine.error, support::close_to(std::sqrt(0.01246875), exactly));
  // p = 0.5/100 and 99.5/100: sqrt(0.005 x 0.995 / 100) = sqrt(0.00004975)
  CHECK(share(0, 99).value == 0);
  CHECK_THAT(share(0, 99).error, support::close_to(std::sqrt(0.00004975), exactly));
  CHECK(share(99, 99).value == 1);
  CHECK_THAT(share(99, 99).error, support::close_to(std::sqrt(0.00004975), exactly));
  CHECK(share(0, 0).value == 0);
  CHECK(share(0, 0).error == 0);
}

TEST_CASE("Coverage, width and classes of one cell by hand") {
  const AuditResult result = two_cells();
  const FarmTally& first = result.farms[0].tally;
  const MethodTally& method = first.methods[0];
  CHECK(estimable(first) == 100);                                              // 110 - 10
  CHECK_THAT(coverage(first, method).value, support::close_to(0.90, exactly)); // 90 of 100
  CHECK_THAT(coverage(first, method).error, support::close_to(share(90, 100).error, exactly));
  CHECK_THAT(*mean_width(method), support::close_to(10, exactly)); // 960 points of 96 intervals
  CHECK_FALSE(mean_width(result.farms[1].tally.methods[1]));       // none was usable
  const VerdictTally& verdicts = method.verdicts[0];
  // Of all 110 trials.
  CHECK_THAT(verdict_share(first, verdicts, VerdictClass::inconclusive).value,
             support::close_to(39.0 / 110, exactly));
  CHECK_THAT(verdict_share(first, verdicts, VerdictClass::not_applicable).value,
             support::close_to(10.0 / 110, exactly));
  // Resistant 8 and low resistant 3; susceptible 50 and low resistant 3.
  CHECK_THAT(claim_share(first, verdicts, Claim::resistance).value,
             support::close_to(11.0 / 110, exactly));
  CHECK_THAT(claim_share(first, verdicts, Claim::good_efficacy).value,
             support::close_to(53.0 / 110, exactly));
}

TEST_CASE("Which claims are false of a farm") {
  const CutOff two = cut_off(0.95, 0.90);
  CHECK(is_false(Claim::resistance, 0.99, two));
  CHECK(is_false(Claim::resistance, 0.95, two)); // at the expected efficacy
  CHECK_FALSE(is_false(Claim::resistance, 0.9499, two));
  CHECK(is_false(Claim::good_efficacy, 0.8999, two));
  CHECK_FALSE(is_false(Claim::good_efficacy, 0.90, two)); // at the lower threshold
  CHECK_FALSE(is_false(Claim::resistance, 0.92, two));    // between the two: neither
  CHECK_FALSE(is_false(Claim::good_efficacy, 0.92, two));
  const CutOff one = cut_off(0.95, std::nullopt);
  CHECK(is_false(Claim::good_efficacy, 0.92, one));
  CHECK_FALSE(is_false(Claim::good_efficacy, 0.95, one));
}

TEST_CASE("Summaries of methods over cells by hand") {
  const AuditResult result = two_cells();
  const auto summaries = method_summaries(result);
  REQUIRE(summaries.size() == 2); // none of the two-group farm, which has no estimable trial
  const MethodSummary& first = summaries[0];
  CHECK(first.design == Design::paired);
  CHECK(first.method == resampled);
  CHECK(first.farms == 2);
  CHECK(first.below_target == 1); // 0.90 and 150/200 = 0.75, against 0.88
  CHECK_THAT(first.mean_coverage, support::close_to((0.90 + 0.75) / 2, exactly));
  CHECK_THAT(first.worst.value, support::close_to(0.75, exactly));
  CHECK_THAT(first.worst.error, support::close_to(share(150, 200).error, exactly));
  CHECK(first.worst_farm == &result.farms[1]);
  CHECK_THAT(*first.mean_width, support::close_to((10.0 + 20.0) / 2, exactly)); // 3,600 of 180
  CHECK_THAT(first.unusable, support::close_to((4.0 / 100 + 20.0 / 200) / 2, exactly));
  // The truth lay below 2 of 100 and 10 of 200 intervals, which are then above it, and above 4 of
  // 100 and 20 of 200.
  CHECK_THAT(first.above.mean, support::close_to((0.02 + 0.05) / 2, exactly));
  CHECK_THAT(first.above.worst.value, support::close_to(0.05, exactly)); // the highest
  CHECK_THAT(first.above.worst.error, support::close_to(share(10, 200).error, exactly));
  CHECK(first.above.worst_farm == &result.farms[1]);
  CHECK_THAT(first.below.mean, support::close_to((0.04 + 0.10) / 2, exactly));
  CHECK_THAT(first.below.worst.value, support::close_to(0.10, exactly));
  CHECK(first.below.worst_farm == &result.farms[1]);
  const MethodSummary& second = summaries[1];
  CHECK(second.method == exact);
  CHECK(second.below_target == 2); // 0.80 and 0
  CHECK_THAT(second.mean_coverage, support::close_to(0.40, exactly));
  CHECK(second.worst.value == 0);
  CHECK(second.worst_farm == &result.farms[1]);
  CHECK_THAT(*second.mean_width, support::close_to(5, exactly)); // of the first farm alone
  CHECK_THAT(second.unusable, support::close_to(0.5, exactly));
  // Limits that do not exist miss on neither side: 8 and 12 of 100, 0 and 0 of 200.
  CHECK_THAT(second.above.mean, support::close_to(0.08 / 2, exactly));
  CHECK(second.above.worst_farm == &result.farms[0]);
  CHECK_THAT(second.below.worst.value, support::close_to(0.12, exactly));
  CHECK(second.below.worst_farm == &result.farms[0]);
}

TEST_CASE("Summaries of false claims over cells by hand") {
  AuditResult result = two_cells();
  // Resistance is false of the farm of 98%, good efficacy of that of 80%.
  const auto summaries = claim_summaries(result);
  REQUIRE(summaries.size() == 4);
  const auto check = [&](const ClaimSummary& summary, Claim claim, Method method, double value,
                         std::size_t worst) {
    CHECK(summary.design == Design::paired);
    CHECK(summary.criterion == 0);
    CHECK(summary.claim == claim);
    CHECK(summary.method == method);
    CHECK(summary.farms == 1);
    CHECK_THAT(summary.mean, support::close_to(value, exactly));
    CHECK_THAT(summary.worst.value, support::close_to(value, exactly));
    CHECK(summary.worst_farm == &result.farms[worst]);
  };
  check(summaries[0], Claim::resistance, resampled, (8.0 + 3) / 110, 0);
  check(summaries[1], Claim::resistance, exact, (20.0 + 5) / 110, 0);
  check(summaries[2], Claim::good_efficacy, resampled, (4.0 + 2) / 200, 1);
  check(summaries[3], Claim::good_efficacy, exact, (1.0 + 0) / 200, 1);

  SECTION("undosed animals lower the truth") {
    // 0.98 x (1 - 0.1) = 0.882, below the lower threshold: good efficacy is now false of both.
    result.farms[0].farm.model.undosed = 0.1;
    const auto changed = claim_summaries(result);
    REQUIRE(changed.size() == 2);
    CHECK(changed[0].claim == Claim::good_efficacy);
    CHECK(changed[0].farms == 2);
    CHECK_THAT(changed[0].mean, support::close_to((53.0 / 110 + 6.0 / 200) / 2, exactly));
    CHECK_THAT(changed[0].worst.value, support::close_to(53.0 / 110, exactly)); // the highest
    CHECK(changed[0].worst_farm == &result.farms[0]);
  }
}

TEST_CASE("Shares of all classes are of all trials and add up to one, by hand") {
  const AuditResult result = two_cells();
  const FarmTally& first = result.farms[0].tally;
  const VerdictShares shares = verdict_shares(first, first.methods[0].verdicts[0]);
  check_shares(shares, {50.0 / 110, 3.0 / 110, 8.0 / 110, 0, 39.0 / 110, 10.0 / 110});
  double sum = 0;
  for (const double share : shares)
    sum += share;
  CHECK_THAT(sum, support::close_to(1, exactly));
  // A farm without a trial has no share above 0.
  check_shares(verdict_shares({}, {}), {});
}

TEST_CASE("The mean of class shares counts each cell the same, by hand") {
  AuditResult result = two_cells();
  const std::vector<const AuditedFarm*> both{&result.farms[0], &result.farms[1]};
  // Of 110 trials and of 200: each farm counts the same, not each trial.
  check_shares(mean_verdict_shares(both, resampled, 0),
               {(50.0 / 110 + 4.0 / 200) / 2, (3.0 / 110 + 2.0 / 200) / 2,
                (8.0 / 110 + 160.0 / 200) / 2, 0, (39.0 / 110 + 14.0 / 200) / 2,
                (10.0 / 110 + 20.0 / 200) / 2});
  check_shares(mean_verdict_shares({&result.farms[1]}, exact, 0),
               {1.0 / 200, 0, 190.0 / 200, 0, 9.0 / 200, 0});
  // Another criterion has tallies of its own.
  for (const std::size_t c : {0U, 1U})
    result.farms[c].tally.methods[0].verdicts.push_back({0, 0, result.farms[c].tally.trials, 0, 0});
  check_shares(mean_verdict_shares(both, resampled, 1), {0, 0, 1, 0, 0, 0});
}

TEST_CASE("The class that a farm of known efficacy deserves follows from the thresholds") {
  AuditCriterion criterion;
  criterion.cut_off = cut_off(0.95, 0.90);
  struct Deserved {
    double efficacy;
    VerdictClass by_2023, by_1992, by_reduction;
  };
  // Both limits and the fall are the efficacy itself; a limit at a threshold is not below it.
  for (const Deserved& each : std::vector<Deserved>{
           {1, VerdictClass::susceptible, VerdictClass::susceptible, VerdictClass::susceptible},
           {0.95, VerdictClass::susceptible, VerdictClass::susceptible, VerdictClass::susceptible},
           {0.9499, VerdictClass::low_resistant, VerdictClass::suspected, VerdictClass::resistant},
           {0.90, VerdictClass::low_resistant, VerdictClass::suspected, VerdictClass::resistant},
           {0.8999, VerdictClass::resistant, VerdictClass::resistant, VerdictClass::resistant},
           {-0.5, VerdictClass::resistant, VerdictClass::resistant, VerdictClass::resistant}}) {
    CAPTURE(each.efficacy);
    criterion.rule = Rule::two_one_sided;
    CHECK(deserved_verdict(criterion, each.efficacy) == each.by_2023);
    criterion.rule = Rule::reduction_and_lower_limit;
    CHECK(deserved_verdict(criterion, each.efficacy) == each.by_1992);
    criterion.rule = Rule::reduction_alone;
    CHECK(deserved_verdict(criterion, each.efficacy) == each.by_reduction);
  }
  criterion.cut_off = cut_off(0.95, std::nullopt);
  CHECK(deserved_verdict(criterion, 0.94) == VerdictClass::resistant); // needs no lower threshold
}

TEST_CASE("A criterion judges by the interval it demands, or by the one shown first") {
  AuditCriterion criterion;
  CHECK(judging_method(criterion) == Method::guarded_posterior);
  criterion.method = Method::log_ratio_1992;
  CHECK(judging_method(criterion) == Method::log_ratio_1992);
}

TEST_CASE("Summaries of true efficacies are of one design each, in rising order, by hand") {
  const auto summaries = efficacy_summaries(judged_by_resampling(), 0);
  REQUIRE(summaries.size() == 3);
  // The farm of 98% stands first in the result, and last of its design here.
  CHECK(summaries[0].design == Design::paired);
  CHECK(summaries[0].efficacy == 0.80);
  CHECK(summaries[0].farms == 1);
  check_shares(summaries[0].verdicts,
               {4.0 / 200, 2.0 / 200, 160.0 / 200, 0, 14.0 / 200, 20.0 / 200});
  CHECK(summaries[1].design == Design::paired);
  CHECK(summaries[1].efficacy == 0.98);
  check_shares(summaries[1].verdicts,
               {50.0 / 110, 3.0 / 110, 8.0 / 110, 0, 39.0 / 110, 10.0 / 110});
  // Of trials without an estimate too: none of the five could be judged.
  CHECK(summaries[2].design == Design::two_group);
  check_shares(summaries[2].verdicts, {0, 0, 0, 0, 0, 1});
}

TEST_CASE("Cells of one true efficacy are one summary, however it came about") {
  AuditResult result = judged_by_resampling();
  // 0.98 with 1 - 0.8/0.98 of the animals undosed is 0.80 but for rounding.
  result.farms[0].farm.model.undosed = 1 - 0.80 / 0.98;
  const auto summaries = efficacy_summaries(result, 0);
  REQUIRE(summaries.size() == 2);
  CHECK(summaries[0].farms == 2);
  CHECK_THAT(summaries[0].efficacy, support::close_to(0.80, exactly));
  CHECK_THAT(summaries[0].verdicts.front(),
             support::close_to((50.0 / 110 + 4.0 / 200) / 2, exactly));
  result.farms[0].farm.model.undosed += 2e-6; // lowers the efficacy by 1.96 millionths
  CHECK(efficacy_summaries(result, 0).size() == 3);
}

TEST_CASE("Cells that a criterion cannot judge are in no summary of efficacies") {
  // The guarded posterior, by which a criterion judges if it demands no other, was not audited.
  CHECK(efficacy_summaries(two_cells(), 0).empty());
  AuditResult result = judged_by_resampling();
  result.farms[2].tally.trials = 0;
  result.farms[2].tally.without_estimate = 0;
  CHECK(efficacy_summaries(result, 0).size() == 2);
  result.farms[1].tally.methods.erase(result.farms[1].tally.methods.begin());
  const auto summaries = efficacy_summaries(result, 0);
  REQUIRE(summaries.size() == 1);
  CHECK(summaries.front().efficacy == 0.98);
}
