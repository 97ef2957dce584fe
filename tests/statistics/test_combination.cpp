#include "eggfall/statistics/combination.hpp"

#include "support/densities.hpp"
#include "support/support.hpp"

#include <boost/math/distributions/normal.hpp>

#include <cmath>

using namespace eggfall;

namespace {

DrenchLaw drench(const std::string& name, std::vector<DrugClass> classes, double reduction,
                 LogRatioDensity density) {
  DrenchLaw result;
  result.group = name;
  result.classes = std::move(classes);
  result.design = Design::paired;
  result.reduction = reduction;
  result.law = GuardedLaw(std::move(density), nullptr, nullptr, GuardedLaw::HalfEggs{});
  return result;
}

/// BZ 80%, LV 70%, both together 90%: log ratios normal with sd 0.3, 0.4 and 0.5.
std::vector<DrenchLaw> bz_lv_and_both() {
  return {
      drench("white", {DrugClass::bz}, 0.8, densities::normal(std::log(0.2), 0.3)),
      drench("yellow", {DrugClass::lv}, 0.7, densities::normal(std::log(0.3), 0.4)),
      drench("both", {DrugClass::bz, DrugClass::lv}, 0.9, densities::normal(std::log(0.1), 0.5))};
}

Combination only(const std::vector<DrenchLaw>& drenches) {
  const std::vector<Combination> found = find_combinations(drenches, std::nullopt, 0.90);
  REQUIRE(found.size() == 1);
  return found.front();
}

} // namespace

TEST_CASE("A combination worked by hand: 80% and 70% give 94%") {
  const Combination both = only(bz_lv_and_both());
  CHECK(both.group == "both");
  REQUIRE(both.parts.size() == 2);
  CHECK(both.parts[0].group == "white");
  CHECK(both.parts[1].drug_class == DrugClass::lv);
  REQUIRE(both.expected);
  CHECK_THAT(both.expected->reduction, support::close_to(0.94)); // 1 - 0.2 x 0.3
  // log(rho_expected) is normal: mean log(0.06), sd 0.5 (0.09 + 0.16 = 0.25).
  const double z = boost::math::quantile(boost::math::normal(), 0.95);
  REQUIRE(both.expected->ratio);
  // Quantiles of a sum of two laws: support::sum_of_two_laws, and half as much again.
  constexpr double of_the_sum = 3e-4;
  CHECK_THAT(both.expected->ratio->lower, support::close_to(0.06 * std::exp(-0.5 * z), of_the_sum));
  CHECK_THAT(both.expected->ratio->upper, support::close_to(0.06 * std::exp(0.5 * z), of_the_sum));
  // The found less the expected: mean log(0.1/0.06), variance 0.5.
  const double below =
      boost::math::cdf(boost::math::normal(), -std::log(0.1 / 0.06) / std::sqrt(0.5));
  CHECK_THAT(both.expected->found_is_better->value,
             Catch::Matchers::WithinAbs(below, support::between_grid_points));
}

TEST_CASE("Parts and combination as pooled counts") {
  const Combination both =
      only({drench("white", {DrugClass::bz}, 0.75, densities::pooled(160, 40)),
            drench("yellow", {DrugClass::lv}, 0.8, densities::pooled(150, 30)),
            drench("both", {DrugClass::bz, DrugClass::lv}, 0.95, densities::pooled(188, 9))});
  // R 4.2.2, tests/published/reference.R: integrate() of Beta densities.
  CHECK_THAT(both.expected->ratio->lower, support::close_to(0.0320288752665, support::coarse_grid));
  CHECK_THAT(both.expected->ratio->upper, support::close_to(0.0770474257995, support::coarse_grid));
  CHECK_THAT(both.expected->found_is_better->value,
             Catch::Matchers::WithinAbs(0.531467113045, support::between_grid_points));
}

TEST_CASE("No combination without each part alone, in animals of one kind") {
  auto drenches = bz_lv_and_both();
  drenches[1].classes = {DrugClass::ml};
  CHECK(find_combinations(drenches, std::nullopt, 0.90).empty());
  drenches = bz_lv_and_both();
  drenches[0].host = "goats";
  CHECK(find_combinations(drenches, std::nullopt, 0.90).size() ==
        1); // the others' host is not given
  drenches[2].host = "sheep";
  CHECK(find_combinations(drenches, std::nullopt, 0.90).empty());
  CHECK(find_combinations({}, std::nullopt, 0.90).empty());
}

TEST_CASE("A combination that cannot be compared says why, and gives no number") {
  auto drenches = bz_lv_and_both();
  const auto refused = [&](const std::string& why) {
    const Combination both = only(drenches);
    CHECK_FALSE(both.expected.has_value());
    CHECK(both.expected.why_not() == why);
  };
  SECTION("a class in two groups") {
    drenches.push_back(drench("white 2", {DrugClass::bz}, 0.6, densities::normal(-1, 0.3)));
    refused("BZ alone was given to 2 groups");
    CHECK(only(drenches).parts.size() == 3);
  }
  SECTION("a part without a posterior") {
    drenches[1].law = WhyNot{"no animal had an egg before treatment"};
    refused("yellow has nothing to compare with: no animal had an egg before treatment");
  }
  SECTION("designs that differ") {
    drenches[0].design = Design::two_group;
    refused("white was measured by the two-group design and both by the paired design");
  }
}

TEST_CASE("With a shared control the limits expected are withheld") {
  auto drenches = bz_lv_and_both();
  for (DrenchLaw& drench : drenches)
    drench.design = Design::two_group;
  const Combination both = only(drenches);
  CHECK_THAT(both.expected->reduction, support::close_to(0.94));
  CHECK_FALSE(both.expected->ratio);
  CHECK(both.expected->found_is_better.has_value());
}

TEST_CASE("The season that each part holds is left in the expected fall once") {
  // The season took a fifth of all eggs: log ratio normal with mean log(0.8) and sd 0.2.
  const LogRatioDensity season = densities::normal(std::log(0.8), 0.2);
  const double z = boost::math::quantile(boost::math::normal(), 0.95);
  constexpr double of_the_sum = 3e-4;
  auto drenches = bz_lv_and_both();
  const auto expected = [&](std::size_t combination) {
    const auto found = find_combinations(drenches, season, 0.90);
    REQUIRE(found.size() > combination);
    return *found[combination].expected;
  };
  // 0.2 x 0.3 / 0.8 are left, and the variance is 0.25 of the parts and 0.04 of the season.
  const Combination::Expected two = expected(0);
  CHECK_THAT(two.reduction, support::close_to(1 - 0.06 / 0.8, of_the_sum));
  CHECK_THAT(two.ratio->lower,
             support::close_to(0.06 / 0.8 * std::exp(-z * std::sqrt(0.29)), of_the_sum));
  CHECK_THAT(two.ratio->upper,
             support::close_to(0.06 / 0.8 * std::exp(z * std::sqrt(0.29)), of_the_sum));
  // Of three parts two seasons are taken out, which are one and the same: variance 4 x 0.04.
  drenches.push_back(drench("clear", {DrugClass::ml}, 0.5, densities::normal(std::log(0.5), 0.3)));
  drenches.push_back(drench("all three", {DrugClass::bz, DrugClass::lv, DrugClass::ml}, 0.99,
                            densities::normal(std::log(0.01), 0.5)));
  const Combination::Expected three = expected(1);
  CHECK_THAT(three.reduction, support::close_to(1 - 0.03 / 0.64, of_the_sum));
  CHECK_THAT(three.ratio->upper,
             support::close_to(0.03 / 0.64 * std::exp(z * std::sqrt(0.34 + 0.16)), of_the_sum));
  // Beside a shared control the season is in the control, and is not taken out again.
  for (DrenchLaw& each : drenches)
    each.design = Design::two_group;
  CHECK_THAT(expected(0).reduction, support::close_to(0.94));
}

TEST_CASE("Beside a shared control the chance is given of three parts, and not of four") {
  const std::vector<DrugClass> classes{DrugClass::bz, DrugClass::lv, DrugClass::ml, DrugClass::ad};
  const auto chance_given = [&](std::size_t parts, Design design) {
    std::vector<DrenchLaw> drenches;
    for (std::size_t i = 0; i < parts; ++i)
      drenches.push_back(
          drench(std::to_string(i), {classes[i]}, 0.5, densities::normal(std::log(0.5), 0.3)));
    drenches.push_back(drench("all", {classes.begin(), classes.begin() + static_cast<long>(parts)},
                              0.95, densities::normal(std::log(0.05), 0.5)));
    for (DrenchLaw& each : drenches)
      each.design = design;
    return only(drenches).expected->found_is_better.has_value();
  };
  CHECK(chance_given(3, Design::two_group));
  CHECK_FALSE(chance_given(4, Design::two_group));
  CHECK(chance_given(4, Design::paired));
}
