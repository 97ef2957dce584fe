#include "eggfall/judgement/verdict.hpp"

#include "eggfall/base/percent.hpp"
#include "support/support.hpp"

using namespace eggfall;

namespace {

Criteria published(const std::string& name) {
  for (const Criteria& criteria : published_cut_offs().criteria)
    if (criteria.name == name)
      return criteria;
  FAIL("no criteria " + name);
  return {};
}

Interval limits(double lower, double upper) {
  Interval interval;
  interval.lower = lower;
  interval.upper = upper;
  return interval;
}

Verdict sheep_verdict(const std::string& criteria_name, double reduction, double lower,
                      double upper) {
  const Criteria criteria = published(criteria_name);
  Group group;
  group.host = "sheep";
  return classify(criteria, choose_cut_off(criteria, group), reduction, limits(lower, upper));
}

} // namespace

TEST_CASE("The 1992 rule: both, one or neither below its cut-off") {
  // Coles et al. 1992, Vet Parasitol 44:35-44: resistance if the reduction is below 95%
  // and the lower 95% limit below 90%; only one: suspected; neither: susceptible.
  CHECK(sheep_verdict("waavp-1992", 0.90, 0.80, 0.95).verdict_class == VerdictClass::resistant);
  CHECK(sheep_verdict("waavp-1992", 0.96, 0.88, 0.99).verdict_class == VerdictClass::suspected);
  CHECK(sheep_verdict("waavp-1992", 0.94, 0.91, 0.96).verdict_class == VerdictClass::suspected);
  CHECK(sheep_verdict("waavp-1992", 0.95, 0.90, 0.99).verdict_class == VerdictClass::susceptible);
  CHECK(published("waavp-1992").level == 0.95);
}

TEST_CASE("Two one-sided tests give four classes") {
  // AAEP Internal Parasite Control Guidelines 2024, pp. 14-15, restates: lower limit at or
  // above the lower threshold is good efficacy, upper limit below the expected efficacy is
  // resistance, neither is inconclusive. Both: Kaplan et al. 2023 (from memory).
  CHECK(two_one_sided(0.92, 0.99, 0.90, 0.95) == VerdictClass::susceptible);
  CHECK(two_one_sided(0.91, 0.94, 0.90, 0.95) == VerdictClass::low_resistant);
  CHECK(two_one_sided(0.80, 0.94, 0.90, 0.95) == VerdictClass::resistant);
  CHECK(two_one_sided(0.80, 0.97, 0.90, 0.95) == VerdictClass::inconclusive);
  SECTION("limits that touch a threshold") {
    CHECK(two_one_sided(0.90, 0.95, 0.90, 0.95) == VerdictClass::susceptible);
  }
}

TEST_CASE("Two one-sided tests: at a threshold is good enough, below it is not") {
  // The lower limit is to be at or above its threshold, the upper limit below the expected.
  CHECK(two_one_sided(0.90, 0.94, 0.90, 0.95) == VerdictClass::low_resistant);
  CHECK(two_one_sided(0.89, 0.95, 0.90, 0.95) == VerdictClass::inconclusive);
  const Verdict verdict = sheep_verdict("waavp-2023-clinical", 0.93, 0.90, 0.95);
  CHECK(verdict.verdict_class == VerdictClass::susceptible);
  CHECK(verdict.reason == "the upper limit, 95.0%, is at or above the expected 95%, and the lower "
                          "limit, 90.0%, is at or above the lower threshold 90%");
}

TEST_CASE("The 1992 rule says which of its two cut-offs was missed") {
  CHECK(sheep_verdict("waavp-1992", 0.95, 0.90, 0.99).reason ==
        "the fall, 95.0%, is at or above the cut-off 95%, and the lower limit, 90.0%, is at "
        "or above the cut-off 90%");
  CHECK(sheep_verdict("waavp-1992", 0.94, 0.89, 0.99).reason ==
        "the fall, 94.0%, is below the cut-off 95%, and the lower limit, 89.0%, is below the "
        "cut-off 90%");
  // One at its cut-off, the other below.
  CHECK(sheep_verdict("waavp-1992", 0.95, 0.89, 0.99).verdict_class == VerdictClass::suspected);
  CHECK(sheep_verdict("waavp-1992", 0.94, 0.90, 0.99).verdict_class == VerdictClass::suspected);
}

TEST_CASE("A rule on the reduction alone needs no interval and shows none") {
  // Coles et al. 2006, Vet Parasitol 136:167-185 (from memory): below 95% in cattle.
  const Criteria criteria = published("waavp-2006");
  Group cattle;
  cattle.host = "cattle";
  const auto judged = [&](const std::optional<double>& reduction) {
    return classify(criteria, choose_cut_off(criteria, cattle), reduction, {});
  };
  CHECK(judged(0.95).verdict_class == VerdictClass::susceptible);
  CHECK(judged(0.95).reason == "the fall, 95.0%, is at or above the cut-off 95%; this rule "
                               "takes no account of chance");
  CHECK(judged(0.9499).verdict_class == VerdictClass::resistant);
  CHECK(judged(0.9499).reason == "the fall, 94.99%, is below the cut-off 95%; this rule takes "
                                 "no account of chance");
  CHECK_FALSE(judged(0.9).interval);
  CHECK(judged({}).verdict_class == VerdictClass::not_applicable);
  CHECK(judged({}).reason == "there is no fall to judge");
}

TEST_CASE("A verdict carries the numbers, interval and source it rests on") {
  const Verdict verdict = sheep_verdict("waavp-2023-clinical", 0.71, 0.60, 0.81);
  CHECK(verdict.verdict_class == VerdictClass::resistant);
  CHECK(verdict.reason == "the upper limit, 81.0%, is below the expected 95%, and the lower limit, "
                          "60.0%, is below the lower threshold 90%");
  CHECK(verdict.interval->lower == 0.60);
  CHECK(verdict.expected == 0.95);
  CHECK(verdict.citation.source == "Kaplan et al. 2023, Veterinary Parasitology 318:109936");
  CHECK(verdict.citation.provenance == Provenance::memory);
}

TEST_CASE("A verdict that cannot be given says why") {
  const Criteria criteria = published("waavp-1992");
  Group group;
  CHECK(
      classify(criteria, choose_cut_off(criteria, group), 0.9, limits(0.8, 0.95)).reason ==
      "its cut-offs differ by host, and the host is not given (column host, or the setting host)");
  group.host = "sheep";
  Interval none;
  none.method = Method::log_ratio_1992;
  none.why_not = "no egg was found";
  const Verdict verdict = classify(criteria, choose_cut_off(criteria, group), 1.0, none);
  CHECK(verdict.verdict_class == VerdictClass::not_applicable);
  CHECK(verdict.reason ==
        "it needs an interval (log ratio, 1992), and there is none: no egg was found");
}

TEST_CASE("The lowest threshold is the lower one, or else the expected efficacy") {
  Verdict verdict;
  CHECK_FALSE(lowest_threshold(verdict));
  verdict.expected = 0.95;
  CHECK(lowest_threshold(verdict) == 0.95);
  verdict.lower = 0.90;
  CHECK(lowest_threshold(verdict) == 0.90);
}

TEST_CASE("A number beside a threshold never looks equal to it unless it is") {
  CHECK(percent_beside(0.9499, 0.95) == "94.99%");
  CHECK(percent_beside(0.94999, 0.95) == "94.999%");
  CHECK(percent_beside(0.95, 0.95) == "95.0%");
  CHECK(percent(0.9997) == "99.97%");
  CHECK(percent(0.99996) == "over 99.99%");
  CHECK(percent(1.0) == "100.0%");
  CHECK(percent(-0.5) == "-50.0%");
  CHECK(percent(-0.00001) == "0.0%");
}
