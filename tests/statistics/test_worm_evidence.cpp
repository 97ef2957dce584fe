#include "eggfall/statistics/worm_evidence.hpp"

#include "support/support.hpp"

#include <boost/math/special_functions/beta.hpp>

#include <algorithm>
#include <cmath>

using namespace eggfall;

namespace {

Evidence evidence(Design design, const Group& treated, const Group* control = nullptr) {
  return {*compare(design, treated, control), {}};
}

/// 100 eggs before, 10 after: 90% in all.
Group cultured(Culture before, Culture after) {
  Group group = support::group("T", {20, 30, 10, 40}, {2, 3, 1, 4});
  group.culture_before = std::move(before);
  group.culture_after = std::move(after);
  return group;
}

} // namespace

static_assert(std::is_constructible_v<WormEvidence, const Evidence&, WormShares>);
static_assert(!std::is_constructible_v<WormEvidence, Evidence, WormShares>); // it must outlive it

TEST_CASE("A hand-worked split by larval culture") {
  // 90% in all. Haemonchus: 20 of 100 larvae before, 60 of 100 after: 1 - 0.1 x 0.6 / 0.2 = 70%.
  // Cooperia: 1 - 0.1 x 0.4 / 0.8 = 95%.
  const Group group =
      cultured({{"haemonchus", 20}, {"cooperia", 80}}, {{"haemonchus", 60}, {"cooperia", 40}});
  const Evidence all = evidence(Design::paired, group);
  const WormEvidence haemonchus(all, worm_shares(Design::paired, group, nullptr, "haemonchus"));
  const WormEvidence cooperia(all, worm_shares(Design::paired, group, nullptr, "cooperia"));
  CHECK_THAT(*haemonchus.reduction(), support::close_to(0.70));
  CHECK_THAT(*cooperia.reduction(), support::close_to(0.95));
  CHECK(cultured_worms(Design::paired, group, nullptr) ==
        std::vector<std::string>{"haemonchus", "cooperia"});
  // Each interval holds its own fall, and not the other's.
  const Interval poor = haemonchus.headline(0.9);
  const Interval good = cooperia.headline(0.9);
  CHECK(*poor.lower < 0.70);
  CHECK(*poor.upper > 0.70);
  CHECK(*poor.upper < 0.95);
  CHECK(*good.lower > *poor.upper);
  CHECK(*good.upper > 0.95);
}

TEST_CASE("Which cultures a design compares") {
  Group treated = cultured({{"w", 1}, {"x", 9}}, {{"w", 2}, {"x", 9}});
  Group control = cultured({{"w", 3}, {"x", 9}}, {{"w", 4}, {"x", 9}});
  control.role = Role::control;
  const auto larvae = [](const std::vector<WormShare>& shares) {
    std::vector<double> result;
    for (const WormShare& share : shares)
      result.push_back(share.larvae);
    return result;
  };
  using Larvae = std::vector<double>;
  const auto above = [&](Design design) {
    return larvae(worm_shares(design, treated, &control, "w").above);
  };
  const auto below = [&](Design design) {
    return larvae(worm_shares(design, treated, &control, "w").below);
  };
  // 1 - T2/T1, 1 - T2/C2, 1 - T2/C1, 1 - (T2/T1)(C1/C2).
  CHECK((above(Design::paired) == Larvae{2} && below(Design::paired) == Larvae{1}));
  CHECK((above(Design::two_group) == Larvae{2} && below(Design::two_group) == Larvae{4}));
  CHECK((above(Design::baseline) == Larvae{2} && below(Design::baseline) == Larvae{3}));
  CHECK((above(Design::controlled) == Larvae{2, 3} && below(Design::controlled) == Larvae{1, 4}));
  CHECK_THROWS_AS(worm_shares(Design::two_group, treated, nullptr, "w"), CalculationError);

  // All four shares by hand: 90% and 90% fell alike, so 1 - 1 x (2/11)(3/12) / ((1/10)(4/13)).
  const Evidence all = evidence(Design::controlled, treated, &control);
  const WormEvidence worm(all, worm_shares(Design::controlled, treated, &control, "w"));
  CHECK_THAT(*worm.reduction(),
             support::close_to(1 - (2.0 / 11) * (3.0 / 12) / ((1.0 / 10) * (4.0 / 13))));
}

TEST_CASE("A worm without larvae to compare with has no fall, and says why") {
  const auto why_not = [](const Group& group, const std::string& worm) {
    const Evidence all = evidence(Design::paired, group);
    const WormEvidence found(all, worm_shares(Design::paired, group, nullptr, worm));
    CHECK_FALSE(found.reduction());
    CHECK_FALSE(found.headline(0.9).usable());
    return found.headline(0.9).why_not;
  };
  CHECK(why_not(cultured({{"x", 50}}, {{"w", 3}, {"x", 20}}), "w") ==
        "none of its larvae were found to compare with");
  CHECK(why_not(cultured({}, {{"w", 3}}), "w") == "no larvae were told apart to compare with");
  CHECK(why_not(cultured({{"w", 3}}, {}), "w") == "no larvae were told apart after treatment");
}

TEST_CASE("No egg after treatment needs no culture after it") {
  Group group = cultured({{"w", 30}, {"x", 70}}, {});
  for (Animal& animal : group.animals)
    animal.after->eggs = EggsSeen(0);
  const Evidence all = evidence(Design::paired, group);
  const WormEvidence worm(all, worm_shares(Design::paired, group, nullptr, "w"));
  CHECK(worm.reduction() == 1);
  const Interval of_worm = worm.headline(0.9);
  REQUIRE(of_worm.usable());
  // Of its own 30% of the eggs less is known than of all: the lower limit is lower.
  CHECK(*of_worm.lower < *all.headline(0.9).lower);
}

TEST_CASE("The guard of all worms guards each of them") {
  // A few animals that were not cured: the bootstrap reaches further than the posterior.
  Group group = support::group("T", {40, 35, 50, 45, 60, 30, 52, 41, 38, 47, 44, 39},
                               {0, 0, 0, 1, 0, 0, 0, 41, 0, 0, 0, 0});
  group.culture_before = {{"w", 50}, {"x", 50}};
  group.culture_after = {{"w", 50}, {"x", 50}};
  const Evidence all = evidence(Design::paired, group);
  const WormEvidence worm(all, worm_shares(Design::paired, group, nullptr, "w"));
  const Interval guarded = all.interval(Method::guarded_posterior, 0.9);
  const Interval bare = all.interval(Method::paired_posterior, 0.9);
  REQUIRE(*guarded.lower < *bare.lower - 0.01);
  // Each witness carries the doubt about the shares by itself.
  const Interval of_worm = worm.interval(Method::guarded_posterior, 0.9);
  CHECK(*of_worm.lower < *worm.interval(Method::paired_posterior, 0.9).lower - 0.01);
  CHECK(*of_worm.lower < *guarded.lower);
  CHECK(worm.guarded()->guarded_by(0.9).lower == Witness::animals);
  CHECK(*of_worm.lower == 1 - worm.guarded()->limits(Witness::animals, 0.9)->upper);
  CHECK(worm.interval(Method::bootstrap_bca, 0.9).why_not == "it makes no use of larvae");
  CHECK_THROWS_AS(worm.interval(Method::guarded_posterior, 1.0), InputError);
}

TEST_CASE("The control's cultures are needed too, even where no egg was left") {
  Group treated = cultured({{"w", 30}, {"x", 70}}, {{"w", 50}, {"x", 50}});
  Group control = cultured({{"w", 30}, {"x", 70}}, {{"w", 40}, {"x", 60}});
  control.role = Role::control;
  const auto fall = [&](const Group& against) {
    const Evidence all = evidence(Design::controlled, treated, &against);
    const WormEvidence worm(all, worm_shares(Design::controlled, treated, &against, "w"));
    CHECK(worm.reduction().has_value() == worm.headline(0.9).usable());
    return std::pair{worm.reduction(), worm.headline(0.9).why_not};
  };
  CHECK(fall(control).first);
  Group uncultured = control;
  uncultured.culture_before = {};
  Group without_worm = control;
  without_worm.culture_before = {{"x", 80}};
  for (const bool eggs_after : {true, false}) {
    if (!eggs_after)
      for (Animal& animal : treated.animals)
        animal.after->eggs = EggsSeen(0);
    CHECK(fall(uncultured).first); // the groups are taken to be alike before treatment
    // Not a fall of 100%, though the product of shares is 0.
    CHECK(fall(without_worm).second == "none of its larvae were found to compare with");
  }
  treated.culture_after = {};
  CHECK(fall(control).first == 1);

  const auto places = [&](Design design) {
    return reference_places(design, worm_shares(design, treated, &control, "w"));
  };
  CHECK(places(Design::controlled)[2] == "in the control group before treatment");
  CHECK(places(Design::two_group)[0] == "in the control group");
}

TEST_CASE("Where a culture is missing that of the same mob stands in, and is named") {
  Group treated = cultured({{"w", 1}, {"x", 9}}, {{"w", 2}, {"x", 9}});
  Group control = cultured({{"w", 3}, {"x", 9}}, {{"w", 4}, {"x", 9}});
  control.role = Role::control;
  const auto shares = [&](Design design) { return worm_shares(design, treated, &control, "w"); };
  const auto references = [&](Design design) {
    std::vector<double> larvae;
    for (const WormShare& each : shares(design).references())
      larvae.push_back(each.larvae);
    return larvae;
  };
  using Larvae = std::vector<double>;
  const std::string_view before = "before treatment";
  const std::string_view control_before = "in the control group before treatment";
  const std::string_view control_after = "in the control group after treatment";
  for (const Design design : all_designs)
    CHECK_FALSE(shares(design).stand_in);

  treated.culture_before = {};
  CHECK(references(Design::paired) == Larvae{3});
  CHECK(shares(Design::paired).stand_in == StandIn{{before}, control_before});
  CHECK(references(Design::controlled) == Larvae{4});
  CHECK(shares(Design::controlled).stand_in == StandIn{{before}, control_after});
  CHECK_FALSE(shares(Design::two_group).stand_in);
  control.culture_before = {};
  CHECK(references(Design::paired) == Larvae{4});
  CHECK(shares(Design::paired).stand_in == StandIn{{before}, control_after});
  CHECK(references(Design::baseline) == Larvae{4});
  CHECK(shares(Design::controlled).stand_in == StandIn{{before, control_before}, control_after});

  control.culture_after = {};
  for (const Design design : all_designs) { // there is none
    CHECK(references(design) == Larvae{0});
    CHECK_FALSE(shares(design).stand_in);
  }
  treated.culture_before = {{"w", 1}, {"x", 9}};
  CHECK(references(Design::two_group) == Larvae{1});
  CHECK(references(Design::baseline) == Larvae{1});
  CHECK(references(Design::controlled) == Larvae{1});
  control.culture_before = {{"w", 3}, {"x", 9}};
  CHECK(references(Design::two_group) == Larvae{3});
  CHECK(references(Design::controlled) == Larvae{1}); // the control's fall out
  CHECK(reference_places(Design::controlled, shares(Design::controlled)).front() == before);
}

TEST_CASE("One culture of several groups is not counted twice") {
  Group treated = cultured({{"w", 10}, {"x", 90}}, {{"w", 20}, {"x", 90}});
  Group control = cultured({{"w", 10}, {"x", 90}}, {{"w", 40}, {"x", 90}});
  control.role = Role::control;
  const auto above = [&] {
    return worm_shares(Design::controlled, treated, &control, "w").above.size();
  };
  CHECK(above() == 2); // alike by chance
  treated.culture_before.mixed_groups = control.culture_before.mixed_groups = {"T", "C"};
  CHECK(above() == 1);
  CHECK(worm_shares(Design::controlled, treated, &control, "w").below.front().larvae == 40);
}

TEST_CASE("Without one of the two shares the other sets a limit") {
  // 60 of 100 after treatment: the fall is at most 1 - rho q, had all eggs before been its.
  const Group after_only = cultured({}, {{"w", 60}, {"x", 40}});
  const Evidence all = evidence(Design::paired, after_only);
  const WormEvidence bounded(all, worm_shares(Design::paired, after_only, nullptr, "w"));
  CHECK(bounded.known_limits() == KnownLimits::upper);
  CHECK_FALSE(bounded.reduction());
  CHECK_FALSE(bounded.guarded());
  const Interval at_most = bounded.headline(0.9);
  CHECK_FALSE(at_most.usable());
  CHECK(at_most.has_one_limit());
  CHECK(at_most.why_not == "no larvae were told apart to compare with");
  REQUIRE(at_most.upper);
  // The limits of the law of rho q without any convolution: all pairs of 400 quantiles of the
  // posterior of all worms and 400 of the share's Beta (boost's, which is R's qbeta). They are a
  // coarse grid, allowed three hundredths of a percent in the first case.
  const LogRatioDensity& rho = all.guarded()->posterior();
  const auto with_share = [&](double x, double n, double sign, double p) {
    std::vector<double> etas;
    constexpr int grid = 400;
    for (int i = 0; i < grid; ++i)
      for (int j = 0; j < grid; ++j)
        etas.push_back(
            rho.quantile((i + 0.5) / grid).value +
            sign * std::log(boost::math::ibeta_inv(x + 0.5, n - x + 0.5, (j + 0.5) / grid)));
    std::ranges::sort(etas);
    return std::exp(etas[static_cast<std::size_t>(p * grid * grid)]);
  };
  CHECK_THAT(*bounded.interval(Method::paired_posterior, 0.9).upper,
             Catch::Matchers::WithinAbs(1 - with_share(60, 100, 1, 0.05), 3e-4));

  // 30 of 100 before: the fall is at least 1 - rho / p, were all eggs left its.
  const Group before_only = cultured({{"w", 30}, {"x", 70}}, {});
  const Evidence same = evidence(Design::paired, before_only);
  const WormEvidence at_least(same, worm_shares(Design::paired, before_only, nullptr, "w"));
  CHECK(at_least.known_limits() == KnownLimits::lower);
  CHECK_FALSE(at_least.headline(0.9).upper);
  CHECK_THAT(*at_least.interval(Method::paired_posterior, 0.9).lower,
             Catch::Matchers::WithinAbs(1 - with_share(30, 100, -1, 0.95), support::coarse_grid));
}

TEST_CASE("What bounds a worm's fall holds whatever the missing share is") {
  // Any share before treatment, told by very many larvae, gives an upper limit that is no higher.
  const auto upper = [](const Culture& before) {
    const Group group = cultured(before, {{"w", 60}, {"x", 40}});
    const Evidence all = evidence(Design::paired, group);
    return *WormEvidence(all, worm_shares(Design::paired, group, nullptr, "w")).headline(0.9).upper;
  };
  const double bound = upper({});
  for (const double share : {0.01, 0.1, 0.5, 0.9, 0.999})
    CHECK(upper({{"w", 1e6 * share}, {"x", 1e6 * (1 - share)}}) <
          bound + support::between_grid_points);
  CHECK_THAT(upper({{"w", 1e9}, {"x", 0}}),
             Catch::Matchers::WithinAbs(bound, support::between_grid_points));
}
