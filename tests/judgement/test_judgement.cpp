#include "eggfall/judgement/judgement.hpp"

#include "judgement/decide_standing.hpp"
#include "support/support.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

Verdict verdict(VerdictClass verdict_class, const std::string& criteria = "c") {
  Verdict result;
  result.criteria = criteria;
  result.verdict_class = verdict_class;
  result.expected = 0.95;
  return result;
}

/// Told apart on the slide: `before` and `after` eggs in one animal of a factor of 50.
WormAnalysis by_eggs(std::uint32_t before, std::uint32_t after,
                     std::vector<Verdict> verdicts = {}) {
  WormAnalysis worm;
  worm.source = WormSource::eggs_told_apart;
  worm.evidence.design = Design::paired;
  worm.evidence.before = summarise(support::counts({before}, 50));
  worm.evidence.after = summarise(support::counts({after}, 50));
  worm.judgement.verdicts = std::move(verdicts);
  if (!worm.judgement.verdicts.empty())
    worm.judgement.standing = standing_of(worm, {});
  return worm;
}

WormAnalysis by_larvae(WormShare before, WormShare after, std::vector<Verdict> verdicts = {}) {
  WormAnalysis worm;
  worm.evidence.design = Design::paired;
  worm.evidence.larvae = WormShares{{after}, {before}};
  worm.judgement.verdicts = std::move(verdicts);
  return worm;
}

using enum VerdictClass;

} // namespace

TEST_CASE("Ways to tell worms apart keep their names") {
  CHECK(to_string(WormSource::larval_culture) == "larval-culture");
  CHECK(to_string(WormSource::eggs_told_apart) == "eggs-told-apart");
}

TEST_CASE("The first verdict that is one is given, or else the first of all") {
  const std::vector<Verdict> second{verdict(not_applicable, "a"), verdict(resistant, "b"),
                                    verdict(susceptible, "c")};
  CHECK(&first_given(second) == &second[1]);
  const std::vector<Verdict> first{verdict(inconclusive, "a"), verdict(resistant, "b")};
  CHECK(&first_given(first) == &first[0]);
  const std::vector<Verdict> none{verdict(not_applicable, "a"), verdict(not_applicable, "b")};
  CHECK(&first_given(none) == &none[0]);
  CHECK(verdict_of(by_eggs(9, 1, second)).criteria == "b");
}

TEST_CASE("What was found of a worm is larvae, or eggs with their mean") {
  const WormAnalysis larvae = by_larvae({6, 100}, {95, 99});
  CHECK(found_before(larvae).larvae->larvae == 6);
  CHECK(found_before(larvae).larvae->total == 100);
  CHECK(found_after(larvae).larvae->larvae == 95);
  CHECK(found_after(larvae).larvae->total == 99);
  CHECK_FALSE(found_before(larvae).eggs);
  CHECK_FALSE(found_after(larvae).mean_epg);

  const WormAnalysis eggs = by_eggs(9, 2);
  CHECK(found_before(eggs).eggs == 9U);
  CHECK(found_before(eggs).mean_epg == 450.0);
  CHECK(found_after(eggs).eggs == 2U);
  CHECK(found_after(eggs).mean_epg == 100.0);
  CHECK_FALSE(found_before(eggs).larvae);
}

TEST_CASE("What was found of a worm before is of the control where its group is compared with it") {
  WormAnalysis worm = by_eggs(9, 2);
  worm.evidence.control = summarise(support::counts({30}, 50));
  CHECK(found_before(worm).eggs == 9U);
  worm.evidence.design = Design::two_group;
  CHECK(found_before(worm).eggs == 30U);
  CHECK(found_after(worm).eggs == 2U);
}

TEST_CASE("Where there was no sample nothing was found, and not no egg") {
  WormAnalysis worm = by_eggs(9, 0);
  CHECK(found_after(worm).eggs == 0U);
  worm.evidence.after = summarise({});
  CHECK_FALSE(found_after(worm).eggs);
  CHECK_FALSE(found_after(worm).mean_epg);
}

TEST_CASE("A worm has the design of its group, or is called paired") {
  WormAnalysis worm;
  CHECK(design_of(worm) == Design::paired);
  worm.evidence.design = Design::baseline;
  CHECK(design_of(worm) == Design::baseline);
}

TEST_CASE("A worm survives if it is resistant, strongly or not, by the first verdict given") {
  const auto survives_by = [](std::vector<Verdict> verdicts) {
    return survives(by_eggs(100, 50, std::move(verdicts)));
  };
  CHECK(survives_by({verdict(resistant)}));
  CHECK(survives_by({verdict(low_resistant)}));
  CHECK_FALSE(survives_by({verdict(suspected)}));
  CHECK_FALSE(survives_by({verdict(inconclusive)}));
  CHECK_FALSE(survives_by({verdict(susceptible)}));
  CHECK_FALSE(survives_by({verdict(not_applicable)}));
  CHECK(survives_by({verdict(not_applicable), verdict(resistant)}));
  CHECK_FALSE(survives_by({verdict(susceptible), verdict(resistant)}));
}

TEST_CASE("A worm that was found and fell too little may survive, unless its class says more") {
  const auto may_survive_as = [](VerdictClass verdict_class, std::optional<double> fall,
                                 std::uint32_t eggs_after = 8) {
    WormAnalysis worm = by_eggs(100, eggs_after, {verdict(verdict_class)});
    worm.evidence.reduction = fall;
    return may_survive(worm);
  };
  CHECK(may_survive_as(inconclusive, 0.92));
  CHECK(may_survive_as(suspected, 0.92));
  CHECK(may_survive_as(not_applicable, 0.92));
  CHECK_FALSE(may_survive_as(susceptible, 0.92)); // called good
  CHECK_FALSE(may_survive_as(resistant, 0.92));   // known to survive
  CHECK_FALSE(may_survive_as(low_resistant, 0.92));
  CHECK_FALSE(may_survive_as(inconclusive, 0.95)); // as much as is expected
  CHECK(may_survive_as(inconclusive, std::nullopt));
  CHECK_FALSE(may_survive_as(inconclusive, 0.92, 0)); // not found after treatment
}

TEST_CASE("Of a worm told by larvae those after treatment count, and without thresholds no fall") {
  const auto may_survive_with = [](WormShare after, std::optional<double> fall,
                                   bool threshold = true) {
    WormAnalysis worm = by_larvae({20, 100}, after, {verdict(inconclusive)});
    worm.evidence.reduction = fall;
    if (!threshold)
      worm.judgement.first_verdict().expected.reset();
    return may_survive(worm);
  };
  CHECK(may_survive_with({5, 100}, 0.9));
  CHECK_FALSE(may_survive_with({0, 100}, 0.9));
  CHECK_FALSE(may_survive_with({0, 0}, std::nullopt));
  CHECK(may_survive_with({5, 100}, std::nullopt));
  // Nothing says what would be enough.
  CHECK_FALSE(may_survive_with({5, 100}, 0.9, false));
}

TEST_CASE("The first verdict is the one in front, to read and to change") {
  Judgement judgement;
  judgement.verdicts = {verdict(inconclusive, "a"), verdict(resistant, "b")};
  judgement.first_verdict().verdict_class = susceptible;
  const Judgement& read = judgement;
  CHECK(read.first_verdict().criteria == "a");
  CHECK(read.first_verdict().verdict_class == susceptible);
}
