#include "eggfall/survey/survey_summary.hpp"

#include "support/support.hpp"

#include <cstdint>

using namespace eggfall;

namespace {

/// Susceptible, low resistant, resistant, suspected, inconclusive and not applicable groups.
VerdictTally tally(std::uint64_t susceptible, std::uint64_t low, std::uint64_t resistant,
                   std::uint64_t suspected, std::uint64_t inconclusive, std::uint64_t none) {
  return {susceptible, low, resistant, suspected, inconclusive, none};
}

} // namespace

TEST_CASE("The share of resistant groups has the Jeffreys limits at 95%") {
  // 29 of 80; R 4.2.2 qbeta, tests/published/reference.R.
  const StratumSummary summary = summarise(tally(51, 9, 20, 0, 0, 7));
  CHECK(summary.tested == 87);
  CHECK(summary.judged == 80);
  CHECK(*summary.resistant.value == 29.0 / 80);
  CHECK_THAT(*summary.resistant.lower, support::close_to(0.263534724752));
  CHECK_THAT(*summary.resistant.upper, support::close_to(0.471214125217));
  // None is open, so that there is one share only.
  CHECK(summary.at_most.value == summary.resistant.value);
  CHECK(summary.at_most.upper == summary.resistant.upper);
}

TEST_CASE("Inconclusive and suspected groups are what may be resistant at most") {
  const StratumSummary summary = summarise(tally(40, 0, 1, 12, 16, 0));
  CHECK(summary.judged == 69);
  CHECK(*summary.resistant.value == 1.0 / 69);
  CHECK(*summary.at_most.value == 29.0 / 69);
  CHECK(*summary.at_most.lower > *summary.resistant.upper);
}

TEST_CASE("Groups without a class count as tested, and in no share") {
  const StratumSummary summary = summarise(tally(0, 0, 0, 0, 0, 5));
  CHECK(summary.tested == 5);
  CHECK(summary.judged == 0);
  CHECK_FALSE(summary.resistant.value);
  CHECK_FALSE(summary.resistant.lower);
  CHECK_FALSE(summary.at_most.value);
}
