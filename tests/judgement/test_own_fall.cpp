#include "judgement/own_fall.hpp"

#include "eggfall/judgement/analyse.hpp"
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
