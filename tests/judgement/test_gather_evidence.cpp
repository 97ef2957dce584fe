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
