#include "statistics/eta_law.hpp"

#include "support/densities.hpp"
#include "support/support.hpp"

#include <boost/math/distributions/normal.hpp>

#include <cmath>

using namespace eggfall;

namespace {

/// A normal law of eta, some of which lies where rho is 0 and some where it is infinite.
class NormalLaw : public EtaLaw {
public:
  NormalLaw(double mean, double sd, double at_zero = 0, double at_infinity = 0)
      : normal_(mean, sd), least_(at_zero), most_(1 - at_infinity) {}

  double probability_below(double eta) const override {
    return least_ + (most_ - least_) * boost::math::cdf(normal_, eta);
  }
  double find_quantile(double p) const override {
    if (p <= least_)
      return -INFINITY;
    return p >= most_ ? INFINITY : boost::math::quantile(normal_, (p - least_) / (most_ - least_));
  }
  double least() const override { return least_; }
  double most() const override { return most_; }

private:
  boost::math::normal normal_;
  double least_;
  double most_;
};

} // namespace

TEST_CASE("A law on a grid keeps its quantiles, and what lies at the ends") {
  const NormalLaw law(-3, 0.4, 0.1, 0.02);
  const LogRatioDensity& grid = law.on_a_grid();
  CHECK(&law.on_a_grid() == &grid); // made once
  CHECK_THAT(grid.at_zero(), support::close_to(0.1));
  CHECK_THAT(grid.at_infinity(), support::close_to(0.02));
  for (const double p : {0.15, 0.3, 0.5, 0.8, 0.95})
    CHECK_THAT(grid.quantile(p).value,
               Catch::Matchers::WithinAbs(law.quantile(p), support::coarse_grid));
  CHECK(grid.quantile(0.05).value == -INFINITY);
  CHECK(grid.quantile(0.99).value == INFINITY);
  CHECK_THAT(grid.probability_below(1).value, support::close_to(0.98));
}

TEST_CASE("Laws on grids are convolved: by normal laws, whose variances add") {
  const LogRatioDensity sum_of_both =
      sum(NormalLaw(-2, 0.3).on_a_grid(), NormalLaw(-1, 0.4).on_a_grid());
  const boost::math::normal exact(-3, 0.5);
  // Each of the two is on a grid of its own, which leaves out what lies furthest.
  constexpr double of_both_grids = 2 * support::coarse_grid;
  for (const double p : {0.025, 0.05, 0.5, 0.95, 0.975})
    CHECK_THAT(sum_of_both.quantile(p).value,
               Catch::Matchers::WithinAbs(boost::math::quantile(exact, p), of_both_grids));
}

TEST_CASE("A density's law is the density") {
  const DensityLaw law(densities::normal(-2, 0.5));
  CHECK(law.least() == 0);
  CHECK(law.most() == 1);
  CHECK_THAT(law.probability_below(-2), support::close_to(0.5, support::on_a_grid));
  CHECK_THAT(law.quantile(0.5), support::close_to(-2, support::on_a_grid));
  CHECK(law.on_a_grid().density().size() > 100);
}
