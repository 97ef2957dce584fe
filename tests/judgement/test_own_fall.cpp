#include "judgement/own_fall.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "judgement/judge.hpp"
#include "support/support.hpp"

#include <cmath>

using namespace eggfall;

namespace {

Group treated() {
  Group group = support::group("T", {40, 25, 60, 33, 18, 52, 44, 29, 61, 37, 22, 48},
                               {2, 1, 3, 1, 0, 2, 3, 1, 4, 2, 1, 2});
  group.host = "sheep";
  return group;
}

/// Ten animals whose counts changed to so many of 100.
Group keepers(int percent_left) {
  const std::vector<std::uint32_t> before{50, 20, 40, 30, 60, 20, 50, 40, 30, 60};
  std::vector<std::uint32_t> after;
  for (const std::uint32_t eggs : before)
    after.push_back(eggs * static_cast<std::uint32_t>(percent_left) / 100);
  Group group = support::group("K", before, after);
  group.role = Role::control;
  group.host = "sheep";
  return group;
}

GroupAnalysis with(const Group& control) {
  Trial trial;
  trial.name = "t";
  trial.groups = {treated(), control};
  AnalysisSettings settings;
  settings.simulations = 0;
  return analyse(trial, published_cut_offs(), settings).groups.front();
}

} // namespace

TEST_CASE("The season that a control tells is taken out of a paired fall") {
  const GroupAnalysis halved = with(keepers(50));
  REQUIRE(halved.judgement.own_fall);
  const OwnFall& own = *halved.judgement.own_fall;
  CHECK(*own.control_fall == 0.5);
  // 22 of 469 eggs left by the drench and the season, of which the season left about half.
  const double left = 22.0 / 469;
  CHECK_THAT(1 - *halved.evidence.reduction, support::close_to(left));
  CHECK(1 - *own.verdict.reduction > 1.7 * left);
  CHECK(1 - *own.verdict.reduction < 2.0 * left); // the prior holds a little to no change
  CHECK(*own.verdict.interval->lower < *halved.evidence.headline.lower);
  CHECK(*own.verdict.interval->upper < *halved.evidence.headline.upper);
  // The chances shown are its own, and agree with its class.
  REQUIRE(halved.judgement.probabilities);
  CHECK(halved.judgement.probabilities->below_lower == own.probabilities->below_lower);
  CHECK(halved.judgement.standing.verdict_class == own.verdict.verdict_class);

  const GroupAnalysis held = with(keepers(100));
  // By symmetry the middle of such a season is no change; half a point is a tenth of the eggs left.
  CHECK_THAT(*held.judgement.own_fall->verdict.reduction,
             Catch::Matchers::WithinAbs(*held.evidence.reduction, 0.005));
  CHECK(held.judgement.standing.bars.empty());
}

TEST_CASE("Only a control of these days tells, and one that had eggs") {
  CHECK_FALSE(season_told_by(nullptr, {}));
  const Group none = support::group("K", {0, 0, 0}, {0, 2, 0});
  CHECK_FALSE(season_told_by(&none, {}));
  const Group once = support::group("K", {}, {3, 2, 0});
  CHECK_FALSE(season_told_by(&once, {}));
  const Group told = keepers(50);
  REQUIRE(season_told_by(&told, {}));

  ControlAnalysis control;
  control.season = season_told_by(&told, {})->law;
  FieldCheck field;
  CHECK_FALSE(shared_season(&control, field)); // no days compared: no control in this trial
  field.control.emplace();
  CHECK(shared_season(&control, field));
  field.control->second_samples = 4;
  CHECK_FALSE(shared_season(&control, field));
  field.control->second_samples = 3;
  CHECK(shared_season(&control, field));
  CHECK_FALSE(shared_season(nullptr, field));
}

TEST_CASE("A worm's season is that of its larvae, or of all worms") {
  Group control = keepers(50);
  const auto of_all = season_told_by(&control, {});
  const auto median = [](const std::optional<ToldSeason>& season) {
    return std::exp(season->law.quantile(0.5).value);
  };
  CHECK(median(season_of_worm(of_all, &control, "w")) == median(of_all)); // not cultured
  control.culture_before = {{"w", 80}, {"x", 20}};
  control.culture_after = {{"w", 40}, {"x", 60}};
  const auto of_w = season_of_worm(of_all, &control, "w");
  // Half of all eggs were left, and of those half as many are of this worm; Jeffreys' prior of a
  // share of 100 larvae, and that both laws are skewed, move the middle by a little.
  CHECK_THAT(median(of_w), Catch::Matchers::WithinAbs(median(of_all) / 2, 0.03));
  CHECK_THAT(1 - *of_w->control_fall, support::close_to(0.25));
  CHECK_FALSE(season_of_worm(std::nullopt, &control, "w"));
}

TEST_CASE("A worm's season needs it in the first culture, and a second one") {
  Group control = keepers(50);
  const auto of_all = season_told_by(&control, {});
  const auto median = [&](const Culture& before, const Culture& after) {
    control.culture_before = before;
    control.culture_after = after;
    return std::exp(season_of_worm(of_all, &control, "w")->law.quantile(0.5).value);
  };
  const double all = std::exp(of_all->law.quantile(0.5).value);
  CHECK(median({{"w", 0}, {"x", 20}}, {{"w", 40}, {"x", 60}}) == all);
  CHECK(median({{"w", 20}, {"x", 20}}, {}) == all);
  CHECK(median({}, {{"w", 20}, {"x", 20}}) == all);
  // One larva is told apart, both times.
  CHECK(median({{"w", 1}, {"x", 9}}, {{"w", 5}, {"x", 5}}) > all);
  CHECK(median({{"w", 10}, {"x", 10}}, {{"x", 1}}) < all);
  // Shares, and not numbers, are compared: a third of 30 after a half of 100.
  control.culture_before = {{"w", 50}, {"x", 50}};
  control.culture_after = {{"w", 10}, {"x", 20}};
  CHECK_THAT(1 - *season_of_worm(of_all, &control, "w")->control_fall,
             support::close_to(0.5 * 2 / 3));
}

TEST_CASE("A season enters paired counts alone") {
  const Group group = treated();
  const Group told = keepers(50);
  const auto season = season_told_by(&told, {});
  const Criteria clinical = published_cut_offs().criteria.front();
  const Evidence paired(*compare(Design::paired, group, nullptr), {});
  REQUIRE(own_fall(clinical, group, paired, season));
  const Evidence compared(*compare(Design::two_group, group, &told), {});
  REQUIRE(compared.guarded());
  CHECK_FALSE(own_fall(clinical, group, compared, season));
}

TEST_CASE("A season enters the one limit that a culture after treatment alone leaves") {
  Group group = treated();
  group.culture_after = {{"w", 60}, {"x", 40}};
  const Group told = keepers(50);
  const auto season = season_told_by(&told, {});
  const Criteria clinical = published_cut_offs().criteria.front();
  const auto evidence_of = [&](Design design) {
    return Evidence(*compare(design, group, &told), {});
  };
  const Evidence paired = evidence_of(Design::paired);
  const WormEvidence bounded(paired, worm_shares(Design::paired, group, nullptr, "w"));
  REQUIRE(bounded.bounding_law());
  const auto own = own_fall(clinical, group, bounded, season);
  REQUIRE(own);
  CHECK(own->control_fall == season->control_fall);
  CHECK_FALSE(own->probabilities);
  REQUIRE(own->verdict.interval->has_one_limit());
  // Half of what is left the season left, so that the drench's own part is less than all.
  CHECK(*own->verdict.interval->upper < *bounded.headline(0.9).upper);
  CHECK_FALSE(own_fall(clinical, group, bounded, std::nullopt));

  const Evidence compared = evidence_of(Design::two_group);
  const WormEvidence other(compared, worm_shares(Design::two_group, group, &told, "w"));
  REQUIRE(other.bounding_law());
  CHECK_FALSE(own_fall(clinical, group, other, season));
}

TEST_CASE("Chances are the law's, held to what the limits beside them claim") {
  const Group group = treated();
  const Evidence evidence(*compare(Design::paired, group, nullptr), {});
  const GuardedLaw& law = *evidence.guarded();
  const double below_95 = law.probability_efficacy_below(0.95);
  const double below_90 = law.probability_efficacy_below(0.90);
  REQUIRE((below_95 > 0.2 && below_95 < 0.8)); // 95.3% fell
  REQUIRE(below_90 < 0.05);
  constexpr double tail = (1 - 0.9) / 2;
  const auto chances = [&](double lower, double upper) {
    Verdict verdict;
    verdict.interval = Interval{Method::guarded_posterior, 0.9, lower, upper, {}, {}};
    verdict.expected = 0.95;
    verdict.lower = 0.90;
    return *probabilities_of(verdict, evidence.guarded());
  };
  // Both thresholds between the limits: no chance is nearer to 0 or 1 than these claim.
  const EfficacyProbabilities between = chances(0.5, 0.99);
  CHECK(between.below_expected == below_95);
  CHECK(between.below_lower == tail);
  CHECK(between.between == below_95 - tail);
  CHECK(between.at_least_expected == 1 - below_95);
  // Both below the lower limit, or at it: at most the tail.
  const EfficacyProbabilities good = chances(0.95, 0.99);
  CHECK(good.below_expected == tail);
  CHECK(good.below_lower == below_90);
  // Both above the upper limit: at least all but the tail.
  const EfficacyProbabilities poor = chances(0.5, 0.6);
  CHECK(poor.below_expected == 1 - tail);
  CHECK(poor.below_lower == 1 - tail);
  CHECK_THAT(poor.at_least_expected, support::close_to(tail));
  CHECK(poor.between == 0);
  // At the upper limit it is no further than between the two; the lower one is beyond it.
  CHECK(chances(0.5, 0.95).below_expected == below_95);
  CHECK(chances(0.5, 0.90).below_lower == tail);
  // A law that lies above a limit it does not know: the chance between is no more than that claims.
  const Group dead = support::group("D", {40, 25, 60, 33, 18}, {40, 25, 50, 30, 18});
  const Evidence failed(*compare(Design::paired, dead, nullptr), {});
  Verdict verdict;
  verdict.interval = Interval{Method::guarded_posterior, 0.9, 0.5, 0.99, {}, {}};
  verdict.expected = 0.95;
  verdict.lower = 0.90;
  CHECK(probabilities_of(verdict, failed.guarded())->below_expected == 1 - tail);
  CHECK(probabilities_of(verdict, failed.guarded())->below_lower == 1 - tail);

  verdict.interval->upper.reset();
  CHECK_FALSE(probabilities_of(verdict, failed.guarded()));
  verdict.interval = Interval{Method::paired_posterior, 0.9, 0.5, 0.99, {}, {}};
  CHECK_FALSE(probabilities_of(verdict, failed.guarded()));
  verdict.interval.reset();
  CHECK_FALSE(probabilities_of(verdict, failed.guarded()));
  verdict.interval = Interval{Method::guarded_posterior, 0.9, 0.5, 0.99, {}, {}};
  CHECK_FALSE(probabilities_of(verdict, OrReason<GuardedLaw>(WhyNot{"no law"})));
}

TEST_CASE("No class is made of a rule that no season enters") {
  const Group group = treated();
  const Evidence evidence(*compare(Design::paired, group, nullptr), {});
  const Group told = keepers(50);
  const auto season = season_told_by(&told, {});
  for (const Criteria& criteria : published_cut_offs().criteria) {
    const auto own = own_fall(criteria, group, evidence, season);
    const bool judged =
        judge(criteria, group, &evidence).verdict_class != VerdictClass::not_applicable;
    const bool by_the_law = !criteria.method || *criteria.method == Method::guarded_posterior;
    CHECK(own.has_value() == (judged && by_the_law));
    CHECK_FALSE(own_fall(criteria, group, evidence, std::nullopt));
  }
}
