#include "judgement/judge.hpp"

#include "judgement/gather_evidence.hpp"
#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

namespace {

const Group treated = support::group("T", trial_a::before, trial_a::after);

Group control() {
  Group group = support::group("C", {}, trial_a::control);
  group.role = Role::control;
  return group;
}

const Criteria& criteria(const CutOffs& cut_offs, const std::string& name) {
  return *std::ranges::find(cut_offs.criteria, name, &Criteria::name);
}

std::vector<Evidence> evidence(const Group& group, const Group* with,
                               const std::optional<Design>& design = {}) {
  return evidence_by_design(group, with, design, {200, 1, 0}, {});
}

} // namespace

TEST_CASE("The criteria asked for come first, and the others stay in their order") {
  const CutOffs published = published_cut_offs();
  CHECK(with_criteria_first(published, "").criteria == published.criteria);
  const auto first = with_criteria_first(published, "waavp-1992").criteria;
  CHECK(first.front().name == "waavp-1992");
  CHECK(first.size() == published.criteria.size());
  CHECK(first[1] == published.criteria[0]);
  CHECK(support::input_error([&] { with_criteria_first(published, "x"); }) ==
        "--criteria: found \"x\"; expected one of waavp-2023-clinical, "
        "waavp-2023-research, waavp-1992, waavp-2006");
  CHECK_THROWS_AS(with_criteria_first({}, ""), InputError);
}

TEST_CASE("Criteria judge by the comparison and the interval that they ask for") {
  const CutOffs published = published_cut_offs();
  const Group untreated = control();
  const auto both = evidence(treated, &untreated);
  const Criteria& old_rule = criteria(published, "waavp-1992");
  const Criteria& clinical = criteria(published, "waavp-2023-clinical");
  CHECK(evidence_judged_by(old_rule, both) == &both[1]);
  CHECK(evidence_judged_by(clinical, both) == &both[0]);
  CHECK(evidence_judged_by(clinical, {}) == nullptr);
  // R 4.2.2, tests/published/reference.R
  CHECK_THAT(100 * *interval_for(old_rule, both[1]).lower, support::close_to(89.072963168887));
  const Interval headline = interval_for(clinical, both[0]);
  CHECK(headline.method == Method::guarded_posterior);
  CHECK(judge(clinical, treated, &both[0]).interval->lower == headline.lower);
  CHECK(judge(clinical, treated, &both[0]).design == Design::paired);
  CHECK(judge<Evidence>(clinical, treated, nullptr).verdict_class == VerdictClass::not_applicable);
  CHECK_FALSE(judge<Evidence>(clinical, treated, nullptr).design);
  // The 1992 rule without a control: the counts before stand in.
  const auto alone = evidence(treated, nullptr);
  CHECK(evidence_judged_by(old_rule, alone) == &alone.front());
  Group alpacas = treated;
  alpacas.host = "alpacas";
  CHECK(judge(clinical, alpacas, &both[0]).reason == "it has no cut-off for alpacas");
  CHECK_FALSE(judge(clinical, alpacas, &both[0]).design);
}
