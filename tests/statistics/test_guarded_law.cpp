#include "eggfall/statistics/guarded_law.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/eta_law.hpp"
#include "support/densities.hpp"
#include "support/support.hpp"

#include <boost/math/distributions/normal.hpp>

#include <cmath>

using namespace eggfall;

namespace {

std::shared_ptr<const EtaLaw> law(const LogRatioDensity& density) {
  return std::make_shared<const DensityLaw>(density);
}

double z(double p) {
  return boost::math::quantile(boost::math::normal(), p);
}

const GuardedLaw::HalfEggs far{-9, 4};

/// Posterior normal(-3, 0.3), animals normal(-2.8, 0.5), luck normal(-3.1, 0.2).
GuardedLaw three() {
  return {densities::normal(-3, 0.3), law(densities::normal(-2.8, 0.5)),
          law(densities::normal(-3.1, 0.2)), far};
}

/// For sums and differences of laws of witnesses. Mass held within half an egg is put at the points
/// of a grid, a twentieth of an sd apart, and spread to their neighbours, which widens the law a
/// little.
constexpr double put_on_points = 3e-3;

/// A law with half of it at rho = 0, as the luck of counting where no egg was found.
LogRatioDensity half_at_zero() {
  EtaMasses masses{-6, 0.05, std::vector<double>(81, 1.0), 0.5, 0};
  return LogRatioDensity(masses);
}

} // namespace

TEST_CASE("The guarded limits are the outermost of the witnesses' at every level") {
  const GuardedLaw law = three();
  for (const double level : {0.5, 0.9, 0.99}) {
    const double p = (1 + level) / 2;
    const RatioLimits limits = law.limits(level);
    const double low = std::min({-3 - 0.3 * z(p), -2.8 - 0.5 * z(p), -3.1 - 0.2 * z(p)});
    const double high = std::max({-3 + 0.3 * z(p), -2.8 + 0.5 * z(p), -3.1 + 0.2 * z(p)});
    CHECK_THAT(std::log(limits.lower),
               Catch::Matchers::WithinAbs(low, support::between_grid_points));
    CHECK_THAT(std::log(limits.upper),
               Catch::Matchers::WithinAbs(high, support::between_grid_points));
    // The chance read where a limit lies is the limit's own.
    CHECK_THAT(law.probability_below(limits.lower),
               Catch::Matchers::WithinAbs(1 - p, support::sums_of_grids));
    CHECK_THAT(law.probability_below(limits.upper),
               Catch::Matchers::WithinAbs(p, support::sums_of_grids));
  }
  CHECK(law.guarded_by(0.9) == GuardedBy{Witness::animals, Witness::animals});
  CHECK_THROWS_AS(law.guarded_by(1), InputError);
  // Between the medians nobody can tell.
  CHECK(law.probability_below(std::exp(-2.95)) == 0.5);
  double before = 0;
  for (double eta = -6; eta < 0; eta += 0.01) {
    const double now = law.probability_below(std::exp(eta));
    CHECK(now >= before);
    before = now;
  }
  CHECK(law.probability_below(0) == 0);
  CHECK_THAT(law.probability_efficacy_below(0.9) + law.probability_below(0.1),
             support::close_to(1));
}

TEST_CASE("A silent witness says nothing, and one at rho = 0 bounds rho from above alone") {
  const GuardedLaw alone(densities::normal(-3, 0.3), nullptr, nullptr, far);
  CHECK_FALSE(alone.speaks(Witness::luck));
  CHECK(alone.limits(0.9).lower == alone.posterior().limits(0.9).lower);
  CHECK(alone.guarded_by(0.9) == GuardedBy{});
  CHECK_FALSE(alone.limits(Witness::luck, 0.9));

  const GuardedLaw none_seen(densities::normal(-5, 0.8), nullptr, law(half_at_zero()), far);
  const RatioLimits limits = none_seen.limits(0.9);
  CHECK(limits.lower == none_seen.posterior().limits(0.9).lower);
  CHECK(limits.upper == none_seen.limits(Witness::luck, 0.9)->upper);
  CHECK(none_seen.limits(Witness::luck, 0.9)->lower == 0);
  CHECK(none_seen.probability_below(1e-6) < 1e-6); // not the half that the luck has there
}

TEST_CASE("Differences and sums are taken witness by witness, and the envelope last") {
  const GuardedLaw x = three();
  const GuardedLaw y(densities::normal(-2, 0.4), law(densities::normal(-2.1, 0.3)),
                     law(densities::normal(-1.9, 0.2)), far);
  const auto check = [](const GuardedLaw& law, Witness witness, double mean, double variance) {
    const RatioLimits limits = *law.limits(witness, 0.9);
    CHECK_THAT(std::log(limits.lower),
               Catch::Matchers::WithinAbs(mean - std::sqrt(variance) * z(0.95), put_on_points));
    CHECK_THAT(std::log(limits.upper),
               Catch::Matchers::WithinAbs(mean + std::sqrt(variance) * z(0.95), put_on_points));
  };
  check(difference(x, y), Witness::posterior, -1, 0.25);
  check(difference(x, y), Witness::animals, -0.7, 0.34);
  check(difference(x, y), Witness::luck, -1.2, 0.08);
  check(sum(x, y), Witness::animals, -4.9, 0.34);
  // The posterior stands in for a witness that is silent on one side.
  const GuardedLaw silent(densities::normal(-2, 0.4), nullptr, nullptr, far);
  check(difference(x, silent), Witness::animals, -0.8, 0.41);
  CHECK_FALSE(difference(silent, silent).speaks(Witness::animals));
}

TEST_CASE("In sums, what lies below half an egg lies at half an egg") {
  const GuardedLaw none_seen(densities::normal(-5, 0.8), nullptr, law(half_at_zero()), {-6.5, 3});
  const LogRatioDensity held = none_seen.law_of(Witness::luck);
  CHECK(held.at_zero() == 0);
  // The lump is spread over two steps of 0.05 either way, all below -6.2, and over four in a sum.
  CHECK_THAT(held.probability_below(std::exp(-6.2)).value, Catch::Matchers::WithinAbs(0.5, 0.01));
  CHECK(held.probability_below(std::exp(-6.9)).value < 0.01);
  const GuardedLaw doubled = sum(none_seen, none_seen);
  CHECK_THAT(std::log(doubled.limits(Witness::luck, 0.6)->lower),
             Catch::Matchers::WithinAbs(-13, 0.2));
  CHECK(none_seen.law_of(Witness::animals).quantile(0.5).value ==
        none_seen.posterior().quantile(0.5).value);
}

TEST_CASE("A change is made to each witness by itself") {
  const GuardedLaw moved = three().changed(
      [](const LogRatioDensity& one) { return difference(one, densities::normal(0.5, 0.01)); });
  // The change has a width of its own, which adds 1.645 (sqrt(0.2^2 + 0.01^2) - 0.2) = 0.0004; the
  // rest is left to the difference on the grid.
  CHECK_THAT(std::log(moved.limits(Witness::luck, 0.9)->upper),
             Catch::Matchers::WithinAbs(-3.6 + 0.2 * z(0.95), 3e-3));
  const GuardedLaw other = three().with_posterior(densities::normal(-3, 2));
  CHECK(other.guarded_by(0.9) == GuardedBy{});
  CHECK(other.posterior().limits(0.9).upper == other.limits(0.9).upper);
}
