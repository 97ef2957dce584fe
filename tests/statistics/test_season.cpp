#include "statistics/season.hpp"

#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/paired_posterior.hpp"
#include "support/densities.hpp"
#include "support/support.hpp"

#include <boost/math/distributions/students_t.hpp>

#include <cmath>

using namespace eggfall;

namespace {

Arm control_of_eight(std::vector<std::uint32_t> after) {
  return {support::counts(after, 15), support::counts({40, 33, 51, 28, 61, 44, 30, 52}, 15)};
}

} // namespace

TEST_CASE("A control with few eggs leaves the season to its prior") {
  // One egg each time: Student's t with 3 degrees of freedom and scale 0.35, R 4.2.2
  // 0.35 * qt(0.9, 3) = 0.5732, all but untouched by so little, a tenth of it.
  const LogRatioDensity season =
      season_of({support::counts({1, 0, 0}, 15), support::counts({0, 1, 0}, 15)}, {1.2});
  CHECK_THAT(season.quantile(0.5).value, Catch::Matchers::WithinAbs(0, support::coarse_grid));
  CHECK_THAT(season.quantile(0.9).value, Catch::Matchers::WithinAbs(0.5732, 0.06));
}

TEST_CASE("The season is the prior times the control's likelihood: point by point") {
  const Arm control = control_of_eight({20, 18, 24, 15, 33, 20, 16, 25});
  const LogRatioDensity season = season_of(control, {1.2});
  const LogRatioDensity posterior = paired_posterior(control, {1.2});
  const boost::math::students_t t(3);
  double constant = 0;
  for (std::size_t i = 40; i + 40 < season.density().size(); i += 20) {
    const double eta = season.start() + season.step() * static_cast<double>(i);
    const double expected = boost::math::pdf(t, eta / 0.35) * posterior.density()[i] *
                            std::cosh(eta / 2); // one factor: no shift
    if (constant == 0)
      constant = season.density()[i] / expected;
    CHECK_THAT(season.density()[i], support::close_to(constant * expected, support::on_a_grid));
  }
  // Counts that halved in eight animals are believed, all but a little.
  CHECK_THAT(std::exp(season.quantile(0.5).value), Catch::Matchers::WithinAbs(0.51, 0.04));
}

TEST_CASE("A paired fall with the season taken out of each witness") {
  const Evidence paired(*compare(Design::paired,
                                 support::group("T", {40, 25, 60, 33, 18, 52, 44, 29, 61, 37},
                                                {2, 1, 3, 1, 0, 2, 3, 1, 4, 2}),
                                 nullptr),
                        {});
  REQUIRE(paired.guarded());
  const LogRatioDensity halved = densities::normal(std::log(0.5), 0.05);
  const SeasonedEvidence seasoned(paired.reduction(), paired.guarded(), halved);
  CHECK_THAT(1 - *seasoned.reduction(),
             support::close_to((1 - *paired.reduction()) / 0.5, support::on_a_grid));
  const Interval now = seasoned.headline(0.9);
  const Interval then = paired.headline(0.9);
  CHECK(*now.lower < *then.lower);
  CHECK(*now.upper < *then.upper);
  // Twice the eggs left, but for the season's own width and the grids of three witnesses.
  CHECK_THAT((1 - *now.upper) / (1 - *then.upper), Catch::Matchers::WithinAbs(2, 0.1));
  CHECK_THAT((1 - *now.lower) / (1 - *then.lower), Catch::Matchers::WithinAbs(2, 0.1));
  CHECK(seasoned.interval(Method::log_ratio_1992, 0.9).why_not == "it makes no use of a season");
  CHECK_THROWS_AS(seasoned.headline(1), InputError);
  const SeasonedEvidence without(std::nullopt, WhyNot{"no egg"}, halved);
  CHECK_FALSE(without.reduction());
  CHECK(without.headline(0.9).why_not == "no egg");
}
