#include "eggfall/simulation/audit_summary.hpp"

#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

constexpr double exactly = 1e-12;

CutOff cut_off(double expected, std::optional<double> lower) {
  CutOff result;
  result.expected = expected;
  result.lower = lower;
  return result;
}

/// Classes in the order of VerdictClass: susceptible, low resistant, resistant, suspected,
/// inconclusive, not applicable.
MethodTally tally(Method method, std::uint64_t held, std::uint64_t above, std::uint64_t below,
                  std::uint64_t unusable, std::uint64_t width, const VerdictTally& classes) {
  return {method, held, above, below, unusable, width, {classes}};
}

AuditedCell cell(Design design, double efficacy, std::uint64_t trials, std::uint64_t without,
                 std::vector<MethodTally> methods) {
  AuditedCell result;
  result.cell.design = design;
  result.cell.model.efficacy = efficacy;
  result.cell.model.control_animals = 15;
  result.tally.trials = trials;
  result.tally.without_estimate = without;
  result.tally.methods = std::move(methods);
  return result;
}

constexpr Method resampled = Method::bootstrap_bca;
constexpr Method exact = Method::pooled_count_exact;

/// Two paired cells, of 98% and 80% efficacy, and one two-group cell without an estimable trial.
AuditResult two_cells() {
  AuditResult result;
  result.settings.methods = {resampled, exact};
  AuditCriterion criterion;
  criterion.cut_off = cut_off(0.95, 0.90);
  result.settings.criteria = {criterion};
  result.cells = {
      cell(Design::paired, 0.98, 110, 10,
           {tally(resampled, 90, 4, 2, 4, 960'000'000, {50, 3, 8, 0, 39, 10}),
            tally(exact, 80, 12, 8, 0, 500'000'000, {60, 5, 20, 0, 15, 10})}),
      cell(Design::paired, 0.80, 200, 0,
           {tally(resampled, 150, 20, 10, 20, 3'600'000'000, {4, 2, 160, 0, 14, 20}),
            tally(exact, 0, 0, 0, 200, 0, {1, 0, 190, 0, 9, 0})}),
      cell(Design::two_group, 0.80, 5, 5,
           {tally(resampled, 0, 0, 0, 0, 0, {0, 0, 0, 0, 0, 5}),
            tally(exact, 0, 0, 0, 0, 0, {0, 0, 0, 0, 0, 5})}),
  };
  return result;
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
  const CellTally& first = result.cells[0].tally;
  const MethodTally& method = first.methods[0];
  CHECK(estimable(first) == 100);                                              // 110 - 10
  CHECK_THAT(coverage(first, method).value, support::close_to(0.90, exactly)); // 90 of 100
  CHECK_THAT(coverage(first, method).error, support::close_to(share(90, 100).error, exactly));
  CHECK_THAT(*mean_width(method), support::close_to(10, exactly)); // 960 points of 96 intervals
  CHECK_FALSE(mean_width(result.cells[1].tally.methods[1]));       // none was usable
  const VerdictTally& classes = method.classes[0];
  // Of all 110 trials.
  CHECK_THAT(class_share(first, classes, VerdictClass::inconclusive).value,
             support::close_to(39.0 / 110, exactly));
  CHECK_THAT(class_share(first, classes, VerdictClass::not_applicable).value,
             support::close_to(10.0 / 110, exactly));
  // Resistant 8 and low resistant 3; susceptible 50 and low resistant 3.
  CHECK_THAT(claim_share(first, classes, Claim::resistance).value,
             support::close_to(11.0 / 110, exactly));
  CHECK_THAT(claim_share(first, classes, Claim::good_efficacy).value,
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
  REQUIRE(summaries.size() == 2); // none of the two-group cell, which has no estimable trial
  const MethodSummary& first = summaries[0];
  CHECK(first.design == Design::paired);
  CHECK(first.method == resampled);
  CHECK(first.cells == 2);
  CHECK(first.below_target == 1); // 0.90 and 150/200 = 0.75, against 0.88
  CHECK_THAT(first.mean_coverage, support::close_to((0.90 + 0.75) / 2, exactly));
  CHECK_THAT(first.worst.value, support::close_to(0.75, exactly));
  CHECK_THAT(first.worst.error, support::close_to(share(150, 200).error, exactly));
  CHECK(first.worst_cell == &result.cells[1]);
  CHECK_THAT(*first.mean_width, support::close_to((10.0 + 20.0) / 2, exactly)); // 3,600 of 180
  CHECK_THAT(first.unusable, support::close_to((4.0 / 100 + 20.0 / 200) / 2, exactly));
  const MethodSummary& second = summaries[1];
  CHECK(second.method == exact);
  CHECK(second.below_target == 2); // 0.80 and 0
  CHECK_THAT(second.mean_coverage, support::close_to(0.40, exactly));
  CHECK(second.worst.value == 0);
  CHECK(second.worst_cell == &result.cells[1]);
  CHECK_THAT(*second.mean_width, support::close_to(5, exactly)); // of the first cell alone
  CHECK_THAT(second.unusable, support::close_to(0.5, exactly));
}

TEST_CASE("Summaries of false claims over cells by hand") {
  AuditResult result = two_cells();
  // Resistance is false of the cell of 98%, good efficacy of that of 80%.
  const auto summaries = claim_summaries(result);
  REQUIRE(summaries.size() == 4);
  const auto check = [&](const ClaimSummary& summary, Claim claim, Method method, double value,
                         std::size_t worst) {
    CHECK(summary.design == Design::paired);
    CHECK(summary.criterion == 0);
    CHECK(summary.claim == claim);
    CHECK(summary.method == method);
    CHECK(summary.cells == 1);
    CHECK_THAT(summary.mean, support::close_to(value, exactly));
    CHECK_THAT(summary.worst.value, support::close_to(value, exactly));
    CHECK(summary.worst_cell == &result.cells[worst]);
  };
  check(summaries[0], Claim::resistance, resampled, (8.0 + 3) / 110, 0);
  check(summaries[1], Claim::resistance, exact, (20.0 + 5) / 110, 0);
  check(summaries[2], Claim::good_efficacy, resampled, (4.0 + 2) / 200, 1);
  check(summaries[3], Claim::good_efficacy, exact, (1.0 + 0) / 200, 1);

  SECTION("undosed animals lower the truth") {
    // 0.98 x (1 - 0.1) = 0.882, below the lower threshold: good efficacy is now false of both.
    result.cells[0].cell.model.undosed = 0.1;
    const auto changed = claim_summaries(result);
    REQUIRE(changed.size() == 2);
    CHECK(changed[0].claim == Claim::good_efficacy);
    CHECK(changed[0].cells == 2);
    CHECK_THAT(changed[0].mean, support::close_to((53.0 / 110 + 6.0 / 200) / 2, exactly));
    CHECK_THAT(changed[0].worst.value, support::close_to(53.0 / 110, exactly)); // the highest
    CHECK(changed[0].worst_cell == &result.cells[0]);
  }
}
