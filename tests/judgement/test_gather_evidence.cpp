#include "judgement/gather_evidence.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

const Group treated = support::group("T", trial_a::before, trial_a::after);

Group control() {
  Group group = support::group("C", {}, trial_a::control);
  group.role = Role::control;
  return group;
}

std::vector<Evidence> evidence(const Group& group, const Group* with,
                               const std::optional<Design>& design = {}) {
  return evidence_by_design(group, with, design, {});
}

} // namespace

TEST_CASE("Evidence by every design there is, the preferred or the chosen one in front") {
  const Group untreated = control();
  CHECK(evidence(treated, nullptr).size() == 1);
  const auto both = evidence(treated, &untreated);
  REQUIRE(both.size() == 2);
  CHECK(both.front().comparison().design == Design::paired);
  CHECK(evidence(treated, &untreated, Design::two_group).front().comparison().design ==
        Design::two_group);
  CHECK(evidence(treated, &untreated, Design::controlled).empty()); // no control counts before
}

TEST_CASE("The counts shown are those compared where a design pairs them") {
  Group group = treated;
  group.animals[0].after.reset();
  group.animals[1].before.reset();
  const Group untreated = control();
  const auto all = evidence(group, &untreated);
  REQUIRE(all.size() == 2);
  const TreatedCounts paired = treated_counts(group, &all[0].comparison());
  CHECK(paired.before.size() == 10);
  CHECK(paired.after.size() == 10);
  const TreatedCounts unpaired = treated_counts(group, &all[1].comparison());
  CHECK(unpaired.before.size() == 11);
  CHECK(unpaired.after.size() == 11);
  const TreatedCounts uncompared = treated_counts(group, nullptr);
  CHECK(uncompared.before.size() == 11);
  CHECK(uncompared.after.size() == 11);
}

TEST_CASE(
    "Where the methods differ is read off their intervals, the posterior's being the measure") {
  const auto differ = [](const std::vector<std::uint32_t>& before,
                         const std::vector<std::uint32_t>& after) {
    const Group group = support::group("T", before, after, 15, 15);
    return shown_evidence(group, evidence(group, nullptr), 0.9).disagreement;
  };
  const MethodDisagreement alike = differ(trial_a::before, trial_a::after);
  CHECK_FALSE(alike.fall_outside_posterior);
  CHECK_FALSE(alike.bootstrap_reaches_further);
  CHECK(alike.much_narrower.empty());
  // No egg left: a fall of 100% lies beyond any limit, and says nothing of the animals.
  const std::vector<std::uint32_t> six(6, 40);
  CHECK_FALSE(differ(six, {0, 0, 0, 0, 0, 0}).fall_outside_posterior);
  // One animal of eight did not respond: 1 - 36/320 = 88.75% is far below 95.8 to 99.97%, to which
  // BCa reaches down as well.
  const std::vector<std::uint32_t> eight(8, 40);
  const MethodDisagreement one = differ(eight, {0, 0, 0, 0, 0, 0, 1, 35});
  CHECK(one.fall_outside_posterior);
  CHECK(one.bootstrap_reaches_further);
  CHECK(one.much_narrower.empty());
  // One animal of eight had most of the eggs: BCa's 90.0 to 99.7% reaches above the posterior's
  // 83.0 to 98.3%, and is 0.63 times as wide; the log ratio's 89.1 to 99.7 is 0.69 times as wide.
  const MethodDisagreement laden =
      differ({300, 10, 10, 10, 10, 10, 10, 10}, {0, 1, 1, 1, 1, 1, 1, 1});
  CHECK_FALSE(laden.fall_outside_posterior);
  CHECK(laden.bootstrap_reaches_further);
  CHECK(laden.much_narrower == std::vector{Method::bootstrap_bca, Method::bootstrap_percentile,
                                           Method::egg_totals_jeffreys, Method::egg_totals_exact,
                                           Method::log_ratio_1992});
  // Few eggs: BCa's 49.5 to 97.2% reaches below the posterior's 54.1 to 98.7%, and not above.
  const MethodDisagreement few = differ({3, 5, 2, 8, 1, 4}, {0, 1, 0, 0, 2, 0});
  CHECK(few.bootstrap_reaches_further);
  CHECK(few.much_narrower == std::vector{Method::egg_totals_jeffreys});
}

TEST_CASE("What is shown is by the first design, with the others' estimates behind it") {
  Group untreated = support::group("C", {40, 38, 44}, {41, 35, 40});
  untreated.role = Role::control;
  const auto by_design = evidence(treated, &untreated, Design::two_group);
  const GroupEvidence shown = shown_evidence(treated, by_design, 0.9);
  CHECK(shown.design == Design::two_group);
  REQUIRE(shown.control);
  CHECK(shown.control->eggs == 116);
  std::vector<Design> others;
  for (const DesignEstimate& other : shown.other_designs)
    others.push_back(other.design);
  CHECK(others == std::vector{Design::paired, Design::controlled, Design::baseline});
  // Animals set against themselves have no control beside them.
  CHECK_FALSE(shown_evidence(treated, evidence(treated, nullptr), 0.9).control);
  const GroupEvidence none = shown_evidence(treated, {}, 0.9);
  CHECK_FALSE(none.design);
  CHECK(none.after.animals == trial_a::after.size());
}
