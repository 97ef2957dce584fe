#include "judgement/judge.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "judgement/gather_evidence.hpp"
#include "support/invented_trials.hpp"
#include "support/support.hpp"
#include "sweep/contradicts.hpp"

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
  return evidence_by_design(group, with, design, {});
}

/// By limits of 90% against 95 and 90.
Verdict by_limits(double lower, double upper) {
  Verdict verdict;
  verdict.expected = 0.95;
  verdict.lower = 0.9;
  verdict.interval.emplace();
  verdict.interval->level = 0.9;
  verdict.interval->lower = lower;
  verdict.interval->upper = upper;
  return verdict;
}

EfficacyProbabilities chances(double below_lower, double below_expected) {
  return {below_expected, below_lower, below_expected - below_lower, 1 - below_expected};
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
        "criteria: found \"x\"; expected one of waavp-2023-clinical, waavp-2023-research, "
        "waavp-1992, waavp-2006");
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
  CHECK_FALSE(judge<Evidence>(clinical, treated, nullptr).interval);
  // The 1992 rule without a control: the counts before stand in.
  const auto alone = evidence(treated, nullptr);
  CHECK(evidence_judged_by(old_rule, alone) == &alone.front());
  Group alpacas = treated;
  alpacas.host = "alpacas";
  CHECK(judge(clinical, alpacas, &both[0]).reason == "it has no cut-off for alpacas");
  CHECK_FALSE(judge(clinical, alpacas, &both[0]).design);
}

TEST_CASE("Chances contradict a verdict that claims more than they do, and no other") {
  const Verdict susceptible = by_limits(0.9, 0.95);
  CHECK_FALSE(contradicts(susceptible, chances(0.04, 0.4)));
  CHECK(contradicts(susceptible, chances(0.06, 0.4)));
  CHECK_FALSE(contradicts(susceptible, chances(0.04, 0.94))); // it need not reach 95%
  const Verdict resistant = by_limits(0.7, 0.949);
  CHECK_FALSE(contradicts(resistant, chances(0.01, 0.96))); // resistant: below the expected
  CHECK(contradicts(resistant, chances(0.6, 0.94)));
  const Verdict low_resistant = by_limits(0.91, 0.94);
  CHECK_FALSE(contradicts(low_resistant, chances(0.04, 0.96)));
  CHECK(contradicts(low_resistant, chances(0.06, 0.96)));
  CHECK(contradicts(low_resistant, chances(0.04, 0.94)));
  const Verdict inconclusive = by_limits(0.89, 0.95);
  CHECK_FALSE(contradicts(inconclusive, chances(0.01, 0.3)));
  CHECK_FALSE(contradicts(inconclusive, chances(0.5, 0.99)));
  // What is allowed hangs on the level: 2.5 of 100 at 95%.
  Verdict at_95 = susceptible;
  at_95.interval->level = 0.95;
  CHECK(contradicts(at_95, chances(0.04, 0.4)));
}

TEST_CASE("No chance that is shown contradicts its verdict") {
  AnalysisSettings settings;
  settings.simulations = 1;
  std::size_t good = 0;
  std::size_t poor = 0;
  for (const std::size_t animals : {5, 8, 12})
    for (const Trial& trial :
         read_trials(invented_trials(120, animals, 1 + animals), "t", {}).trials)
      for (const GroupAnalysis& group : analyse(trial, published_cut_offs(), settings).groups) {
        if (!group.judgement.probabilities)
          continue;
        const Verdict& verdict = group.judgement.first_verdict();
        const double allowed = (1 - verdict.interval->level) / 2;
        CAPTURE(trial.name, verdict.reason);
        if (*verdict.interval->lower >= *verdict.lower) {
          ++good;
          CHECK(group.judgement.probabilities->below_lower <= allowed);
        }
        if (*verdict.interval->upper < *verdict.expected) {
          ++poor;
          CHECK(group.judgement.probabilities->below_expected >= 1 - allowed);
        }
      }
  CHECK(good > 20);
  CHECK(poor > 100);
}
