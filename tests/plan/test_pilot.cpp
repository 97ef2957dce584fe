#include "eggfall/plan/pilot.hpp"

#include "eggfall/statistics/mean_posterior.hpp"
#include "support/support.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

using namespace eggfall;

TEST_CASE("A pilot count gives mean and k, with their limits") {
  // Bliss & Fisher 1953, mites on apple leaves: mean 1.146667, k 1.024592 by maximum likelihood.
  std::vector<std::uint32_t> leaves;
  const std::vector<std::size_t> on{70, 38, 17, 10, 9, 3, 2, 1};
  for (std::uint32_t mites = 0; mites < on.size(); ++mites)
    leaves.insert(leaves.end(), on[mites], mites);
  const std::vector<Count> counts = support::counts(leaves, 1);
  const Pilot pilot = pilot_of(counts, 1);
  CHECK(pilot.animals == 150);
  CHECK(pilot.eggs == 172);
  CHECK_THAT(pilot.mean_epg,
             Catch::Matchers::WithinAbs(1.146667, 5e-7)); // half the last printed digit
  // The middle of a posterior is not where the likelihood is highest: half of the standard error of
  // this k, which is 0.28 by the curvature of the log likelihood there.
  CHECK_THAT(pilot.k, Catch::Matchers::WithinAbs(1.0246, 0.15));
  CHECK((pilot.lower_k < 1.0246 && pilot.upper_k > 1.0246));
  // The limits of the mean are those of its posterior by quadrature, but for 4,000 draws: its
  // logarithm has a standard deviation of sqrt((1/1.147 + 1/1.025)/150) = 0.11, so that a limit has
  // a standard error of 0.11 sqrt(0.05 0.95/4,000)/0.103 = 0.0037, 0.103 being the normal density
  // there. Five of them are allowed.
  const LogRatioDensity density = mean_posterior(counts, MeanPrior());
  CHECK_THAT(pilot.lower_mean_epg,
             Catch::Matchers::WithinRel(std::exp(density.quantile(0.05).value), 0.02));
  CHECK_THAT(pilot.upper_mean_epg,
             Catch::Matchers::WithinRel(std::exp(density.quantile(0.95).value), 0.02));
  CHECK(pilot_of(counts, 1).k == pilot.k);
  CHECK(support::input_error([] {
          pilot_of(support::counts({3, 4}, 50), 1);
        }) == "2 pilot counts with 7 eggs; expected 3 or more, and some eggs");
  CHECK_THROWS_AS(pilot_of(support::counts({0, 0, 0}, 50), 1), InputError);
}

TEST_CASE("The k of a pilot stays within what a plan can simulate") {
  // Counts all alike say that k is large, and one animal with all the eggs that it is small.
  const Pilot alike = pilot_of(support::counts(std::vector<std::uint32_t>(12, 20), 15), 1);
  const Pilot one = pilot_of(support::counts({900, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}, 15), 1);
  CHECK(alike.k > 5);
  CHECK(alike.upper_k <= 1'000);
  CHECK(one.k < 0.2);
  CHECK(one.lower_k >= 0.05);
  for (const Pilot& pilot : {alike, one}) {
    CHECK(pilot.lower_k <= pilot.k);
    CHECK(pilot.k <= pilot.upper_k);
    CHECK(pilot.lower_mean_epg < pilot.mean_epg);
    CHECK(pilot.mean_epg < pilot.upper_mean_epg);
  }
  CHECK_THAT(alike.mean_epg, support::close_to(300.0)); // 20 eggs at 15 EPG each
  CHECK_THAT(one.mean_epg, support::close_to(1'125.0)); // 900 x 15 / 12
}
