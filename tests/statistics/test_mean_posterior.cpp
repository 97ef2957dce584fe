#include "eggfall/statistics/mean_posterior.hpp"

#include "eggfall/statistics/posterior.hpp"
#include "support/support.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <cmath>

using namespace eggfall;

TEST_CASE("The posterior of a mean agrees with brute-force quadrature") {
  const std::vector<std::uint32_t> eggs{4, 0, 7, 2, 1, 9, 0, 3};
  const MeanPrior prior;
  const double scale = prior.between_animals.scale;
  const LogRatioDensity density = mean_posterior(support::counts(eggs, 15), prior);
  const auto brute_force = [&](double eta) {
    const double m = std::exp(eta) / 15;
    const auto at_cv = [&](double cv) {
      const double k = 1 / (cv * cv);
      double log_likelihood = -cv * cv / (2 * scale * scale);
      for (const double x : eggs)
        log_likelihood += std::lgamma(x + k) - std::lgamma(k) + k * std::log(k / (k + m)) +
                          x * std::log(m / (k + m));
      return std::exp(log_likelihood);
    };
    return std::sqrt(m) / (1 + m / prior.middle_eggs) *
           boost::math::quadrature::gauss_kronrod<double, 61>::integrate(
               at_cv, VariationPrior::lowest * scale, VariationPrior::highest * scale, 8, 1e-10);
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
               support::close_to(brute_force(on_grid(p)) / brute_force(middle),
                                 support::between_grid_points));
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
    CHECK_THAT(
        std::exp(density.quantile(p).value),
        support::close_to(boost::math::gamma_p_inv(12.5, p) / 4, support::between_grid_points));
}

TEST_CASE("A few clumped eggs do not allow a fall without limit below zero") {
  // 7 animals a group at 3 eggs a head: the weakly informative tail holds the lower limit.
  const Comparison comparison{Design::two_group,
                              {{support::counts({0, 0, 1, 0, 0, 0, 0}, 15), {}},
                               {{}, support::counts({3, 0, 9, 1, 0, 7, 1}, 15)}},
                              {}};
  const auto result = posterior(comparison, {});
  CHECK(1 - result->limits(0.9).upper > -1.5);
}

TEST_CASE("The unit of EPG does not matter to two groups, and swapping them turns the ratio over") {
  const auto a = support::counts({3, 0, 7, 1, 12}, 5);
  const auto b = support::counts({9, 15, 2, 30, 8}, 5);
  const auto ratio_of = [](const std::vector<Count>& t, const std::vector<Count>& c) {
    return *posterior({Design::two_group, {{t, {}}, {{}, c}}, {}}, {});
  };
  const double eta = ratio_of(a, b).quantile(0.05).value;
  CHECK_THAT(-ratio_of(b, a).quantile(0.95).value, support::close_to(eta, support::on_a_grid));
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

TEST_CASE("Two groups with tied aggregations agree with brute-force quadrature") {
  const std::vector<std::uint32_t> above{0, 2, 0, 1, 0};
  const std::vector<std::uint32_t> below{4, 0, 7, 12, 1, 9};
  const MeanPrior prior;
  const double scale = prior.between_animals.scale;
  const auto log_likelihood = [](const std::vector<std::uint32_t>& eggs, double m, double k) {
    double sum = 0;
    for (const double x : eggs)
      sum += std::lgamma(x + k) - std::lgamma(k) + k * std::log(k / (k + m)) +
             x * std::log(m / (k + m));
    return sum;
  };
  // Sums over even steps of log m and of both CVs; the ends are negligible in m. Each of the two
  // groups has a coarse grid.
  constexpr double step = 0.1;
  constexpr int means = 241;
  constexpr int cvs = 80;
  const double cv_step = (VariationPrior::highest - VariationPrior::lowest) * scale / cvs;
  const auto table = [&](const std::vector<std::uint32_t>& eggs) {
    std::vector<std::vector<double>> values(cvs, std::vector<double>(means));
    for (int g = 0; g < cvs; ++g)
      for (int i = 0; i < means; ++i) {
        const double cv = VariationPrior::lowest * scale + cv_step * (g + 0.5);
        const double m = std::exp(-10 + step * i);
        values[static_cast<std::size_t>(g)][static_cast<std::size_t>(i)] =
            std::exp(log_likelihood(eggs, m, 1 / (cv * cv)) - cv * cv / (2 * scale * scale)) *
            std::sqrt(m) / (1 + m / prior.middle_eggs);
      }
    return values;
  };
  const auto t = table(above);
  const auto c = table(below);
  std::vector<double> difference(2 * means - 1, 0.0); // at (index - means + 1) steps
  for (std::size_t g = 0; g < cvs; ++g)
    for (std::size_t h = 0; h < cvs; ++h) {
      const double at_g = VariationPrior::lowest * scale + cv_step * (static_cast<double>(g) + 0.5);
      const double at_h = VariationPrior::lowest * scale + cv_step * (static_cast<double>(h) + 0.5);
      const double tie = std::exp(-std::pow(std::log(at_g / at_h) / prior.cv_ratio, 2) / 2);
      for (std::size_t i = 0; i < means; ++i)
        for (std::size_t j = 0; j < means; ++j)
          difference[i + means - 1 - j] += tie * t[g][i] * c[h][j];
    }
  double total = 0;
  for (const double value : difference)
    total += value;
  const LogRatioDensity density =
      two_means_posterior(support::counts(above, 15), support::counts(below, 15), prior);
  double sum = 0;
  for (std::size_t i = 0; i < difference.size(); ++i) {
    sum += difference[i] / total;
    if (sum < 0.02 || sum > 0.98)
      continue;
    const double eta = step * (static_cast<double>(i) - means + 1.5); // the end of this step
    CHECK_THAT(density.probability_below(std::exp(eta)).value,
               support::close_to(sum, 2 * support::coarse_grid));
  }
}

TEST_CASE("With hardly any tie two groups are independent, and draws follow the posterior") {
  MeanPrior loose;
  loose.cv_ratio = 1e6;
  const auto above = support::counts({0, 2, 0, 1, 0}, 15);
  const auto below = support::counts({4, 0, 7, 12, 1, 9}, 5);
  const LogRatioDensity independent =
      difference(mean_posterior(above, loose), mean_posterior(below, loose));
  const LogRatioDensity tied = two_means_posterior(above, below, loose);
  for (const double p : {0.05, 0.5, 0.95})
    CHECK_THAT(tied.quantile(p).value,
               support::close_to(independent.quantile(p).value, support::between_grid_points));

  const LogRatioDensity density = two_means_posterior(above, below, {});
  RandomStream stream({1, 2, 3});
  constexpr std::size_t size = 20'000;
  std::size_t low = 0;
  for (const TwoMeansState& state : draw_two_means(above, below, {}, size, stream))
    low += state.above.mean_epg / state.below.mean_epg < std::exp(density.quantile(0.2).value);
  // Three and a half standard errors: 3.5 sqrt(0.2 0.8/20,000) = 0.01, which is 0.05 of 0.2.
  CHECK_THAT(static_cast<double>(low) / size, support::close_to(0.2, 0.05));
}
