#include "eggfall/mean_posterior.hpp"

#include "eggfall/posterior.hpp"
#include "support.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <cmath>

using namespace eggfall;

TEST_CASE("The posterior of a mean agrees with brute-force quadrature") {
  const std::vector<std::uint32_t> eggs{4, 0, 7, 2, 1, 9, 0, 3};
  const LogRatioDensity density = mean_posterior(support::counts(eggs, 15), {});
  const auto brute_force = [&](double eta) {
    const double m = std::exp(eta) / 15;
    const auto at_cv = [&](double cv) {
      const double k = 1 / (cv * cv);
      double log_likelihood = -cv * cv / (2 * 1.5 * 1.5);
      for (const double x : eggs)
        log_likelihood += std::lgamma(x + k) - std::lgamma(k) + k * std::log(k / (k + m)) +
                          x * std::log(m / (k + m));
      return std::exp(log_likelihood);
    };
    return std::sqrt(m) / (1 + m / 100) *
           boost::math::quadrature::gauss_kronrod<double, 61>::integrate(at_cv, 0.03, 2.55, 8,
                                                                         1e-10);
  };
  const auto on_grid = [&](double p) {
    return density.start() +
           density.step() *
               std::round((density.quantile(p).value - density.start()) / density.step());
  };
  const auto ours = [&](double eta) {
    return density
        .density()[static_cast<std::size_t>(std::lround((eta - density.start()) / density.step()))];
  };
  const double middle = on_grid(0.5);
  for (const double p : {0.02, 0.2, 0.8, 0.98})
    CHECK_THAT(ours(on_grid(p)) / ours(middle),
               support::close_to(brute_force(on_grid(p)) / brute_force(middle), 1e-4));
}

TEST_CASE("With hardly any variation between animals the mean is gamma distributed") {
  // k huge: the counts are Poisson, and under m^(1/2) the mean of n animals with X eggs is
  // Gamma(X + 1/2, n); the tail 1/(1 + m/100) at m of 3 shifts it by less than 1%.
  MeanPrior prior;
  prior.between_animals.scale = 0.001;
  prior.middle_eggs = 1e9;
  const std::vector<std::uint32_t> eggs{3, 2, 4, 3};
  const LogRatioDensity density = mean_posterior(support::counts(eggs, 1), prior);
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(std::exp(density.quantile(p).value),
               support::close_to(boost::math::gamma_p_inv(12.5, p) / 4, 1e-4));
}

TEST_CASE("A few clumped eggs do not allow a fall without limit below zero") {
  // 7 animals a group at 3 eggs a head: the weakly informative tail holds the lower limit.
  const Comparison comparison{Design::two_group,
                              {{support::counts({0, 0, 1, 0, 0, 0, 0}, 15), {}},
                               {{}, support::counts({3, 0, 9, 1, 0, 7, 1}, 15)}},
                              {}};
  const auto result = posterior(comparison, {});
  CHECK(1 - result.density->limits(0.9).upper > -1);
}

TEST_CASE("The unit of EPG does not matter to two groups, and swapping them turns the ratio over") {
  const auto a = support::counts({3, 0, 7, 1, 12}, 5);
  const auto b = support::counts({9, 15, 2, 30, 8}, 5);
  const auto ratio_of = [](const std::vector<Count>& t, const std::vector<Count>& c) {
    return *posterior({Design::two_group, {{t, {}}, {{}, c}}, {}}, {}).density;
  };
  const double eta = ratio_of(a, b).quantile(0.05).value;
  CHECK_THAT(-ratio_of(b, a).quantile(0.95).value, support::close_to(eta, 1e-6));
}

TEST_CASE("Counts from zero to a hundred thousand, at several factors") {
  CHECK(std::isfinite(mean_posterior(support::counts({0, 0, 0}, 50), {}).quantile(0.05).value));
  CHECK(std::isfinite(mean_posterior(support::counts({100'000, 3}, 0.1), {}).quantile(0.95).value));
  CHECK(std::isfinite(
      mean_posterior(support::counts(std::vector<std::uint32_t>(2'000, 40), 1'000), {})
          .quantile(0.95)
          .value));
  auto mixed = support::counts({4, 5}, 15);
  mixed.push_back({EggsSeen(20), MultiplicationFactor(5)});
  CHECK(std::isfinite(mean_posterior(mixed, {}).quantile(0.5).value));
  CHECK_THROWS_AS(mean_posterior({}, {}), CalculationError);
}
