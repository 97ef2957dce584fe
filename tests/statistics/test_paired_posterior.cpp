#include "eggfall/statistics/paired_posterior.hpp"

#include "eggfall/base/random_stream.hpp"
#include "statistics/paired_likelihood.hpp"

#include "support/support.hpp"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <iomanip>

using namespace eggfall;

namespace {

using Eggs = std::vector<std::uint32_t>;

Arm arm(const Eggs& before, const Eggs& after, double f_before = 1, double f_after = 1) {
  return {support::counts(after, f_after), support::counts(before, f_before)};
}

double efficacy(const LogRatioDensity& density, double p) {
  return 1 - std::exp(density.quantile(1 - p).value);
}

/// The density of eta at one point by brute force: adaptive quadrature over tau, and inside it,
/// for each animal, over z. An independent path to the same model.
double brute_force(const Eggs& before, const Eggs& after, double eta) {
  using Kronrod = boost::math::quadrature::gauss_kronrod<double, 31>;
  const auto softplus = [](double x) {
    return x > 0 ? x + std::log1p(std::exp(-x)) : std::log1p(std::exp(x));
  };
  const auto at_tau = [&](double tau) {
    const double kappa = 1 / (tau * tau);
    const double log_norm = 2 * std::lgamma(kappa) - std::lgamma(2 * kappa);
    const double reach = std::min(120.0, 12 * tau + 40 * tau * tau);
    double product = std::exp(-tau * tau / 2);
    for (std::size_t i = 0; i < before.size(); ++i) {
      const double b = after[i];
      const double n = b + before[i];
      const auto integrand = [&](double z) {
        return std::exp(b * (eta + z) - n * softplus(eta + z) + kappa * (z - 2 * softplus(z)) -
                        log_norm);
      };
      // In pieces, so that no narrow peak is missed.
      double sum = 0;
      constexpr int pieces = 24;
      for (int piece = 0; piece < pieces; ++piece)
        sum += Kronrod::integrate(integrand, reach * (2.0 * piece / pieces - 1),
                                  reach * (2.0 * (piece + 1) / pieces - 1), 3, 1e-9);
      product *= sum;
    }
    return product;
  };
  double total = 0;
  constexpr int pieces = 3;
  constexpr double low = VariationPrior::lowest;
  constexpr double width = (VariationPrior::highest - low) / pieces;
  for (int piece = 0; piece < pieces; ++piece)
    total += boost::math::quadrature::gauss_kronrod<double, 15>::integrate(
        at_tau, low + width * piece, low + width * (piece + 1), 0);
  return total * std::exp(eta / 2 - softplus(eta));
}

/// Quantiles of eta by a quadrature far finer than is needed: 61 nodes over all of tau's prior,
/// 1,025 points over more than the density's range, inner sums at 2.5 steps a standard
/// deviation. It shares with paired_posterior() the inner sums alone, which test_paired_likelihood
/// compares with adaptive quadrature.
std::array<double, 2> fine_quantiles(const Arm& counts, const LogRatioDensity& density,
                                     const std::array<double, 2>& probabilities) {
  const double length = density.step() * static_cast<double>(density.density().size() - 1);
  const EtaGrid grid({density.start() - length / 8, density.start() + length * 9 / 8}, 1'025);
  const std::vector<TauNode> nodes =
      tau_nodes(nested_rule<61>({VariationPrior::lowest, VariationPrior::highest}), {});
  Eigen::ArrayXXd joint = paired_log_likelihood(distinct_pairs(counts), nodes, grid, 2.5);
  double shift = 0; // of eta, to the log ratio of eggs seen
  {
    double before = 0;
    double after = 0;
    for (std::size_t i = 0; i < counts.above.size(); ++i) {
      before += 1 / counts.below[i].factor.value();
      after += 1 / counts.above[i].factor.value();
    }
    shift = std::log(after / before);
  }
  for (std::size_t i = 0; i < grid.points; ++i) {
    const double x = grid.eta(i) + shift;
    joint.row(static_cast<Eigen::Index>(i)) +=
        x / 2 - std::max(x, 0.0) - std::log1p(std::exp(-std::abs(x)));
  }
  const std::vector<double> log_density = marginal(joint, weights(nodes, &TauNode::log_weight));
  const double highest = *std::ranges::max_element(log_density);
  std::vector<double> f; // the density, and what is below each point, in units of the step
  for (const double value : log_density)
    f.push_back(std::exp(value - highest));
  std::vector<double> below{0};
  for (std::size_t i = 1; i < grid.points; ++i)
    below.push_back(below.back() + (f[i - 1] + f[i]) / 2);
  // Euler and Maclaurin's correction, the slopes being those between both neighbours.
  for (std::size_t i = 1; i + 1 < grid.points; ++i)
    below[i] -= (f[i + 1] - f[i - 1]) / 24;
  std::array<double, 2> result{};
  for (std::size_t k = 0; k < result.size(); ++k) {
    const double wanted = probabilities[k] * below.back();
    const auto i =
        static_cast<std::size_t>(std::ranges::upper_bound(below, wanted) - below.begin()) - 1;
    double low = 0;
    double high = 1;
    for (int step = 0; step < 60; ++step) {
      const double t = (low + high) / 2;
      // Hermite's cubic through both ends, of which f are the slopes.
      const double rise = below[i + 1] - below[i];
      const double position =
          below[i] +
          t * (f[i] + t * (3 * rise - 2 * f[i] - f[i + 1] + t * (f[i] + f[i + 1] - 2 * rise)));
      (position < wanted ? low : high) = t;
    }
    result[k] = grid.eta(i) + low * grid.step;
  }
  return result;
}

/// Invented counts of one kind: about `mean` eggs before, and a share of them after, that differs
/// from animal to animal by up to a factor of `spread` either way.
struct InventedArm {
  std::size_t animals = 15;
  double mean = 20;
  double share_left = 0.05;
  double spread = 3;
  std::vector<double> factors_before{15};
  std::vector<double> factors_after{15};
};

Arm invented(const InventedArm& kind, std::uint32_t number) {
  RandomStream stream({7, number, 0});
  const auto share = [&] { return (stream.below(1'000'000) + 0.5) / 1e6; };
  Arm counts;
  for (std::size_t i = 0; i < kind.animals; ++i) {
    const double level = -kind.mean * std::log(share());
    const double left = kind.share_left * std::pow(kind.spread, 2 * share() - 1);
    const auto eggs = [&](double expected, const std::vector<double>& factors) {
      return Count{EggsSeen(static_cast<std::uint32_t>(expected + share())),
                   MultiplicationFactor(factors[i % factors.size()])};
    };
    const double f_before = kind.factors_before[i % kind.factors_before.size()];
    const double f_after = kind.factors_after[i % kind.factors_after.size()];
    counts.below.push_back(eggs(level * 15 / f_before, kind.factors_before));
    counts.above.push_back(eggs(level * left * 15 / f_after, kind.factors_after));
  }
  counts.below.front().eggs = EggsSeen(std::max(1U, counts.below.front().eggs.value()));
  return counts;
}

} // namespace

TEST_CASE("The paired posterior of Trial A agrees with JAGS") {
  // Reference run with JAGS 4.3.1, 200,000 draws, effective size 28,000: 2.5% 91.86,
  // 5% 92.73, median 96.14, 95% 98.38, 97.5% 98.70. The lowest has the largest Monte Carlo error,
  // sqrt(0.025 0.975/28,000) = 0.0009 where 0.025 of the probability are 0.87 points: 0.03 points,
  // of which three are allowed.
  const LogRatioDensity density = paired_posterior(arm(trial_a::before, trial_a::after), {});
  const std::vector<std::pair<double, double>> jags{
      {0.025, 91.86}, {0.05, 92.73}, {0.5, 96.14}, {0.95, 98.38}, {0.975, 98.70}};
  for (const auto& [p, percent] : jags)
    CHECK_THAT(100 * efficacy(density, p), Catch::Matchers::WithinAbs(percent, 0.1));
}

TEST_CASE("The paired posterior agrees with brute-force quadrature") {
  const std::vector<std::pair<Eggs, Eggs>> groups{
      {{12, 5, 20}, {1, 0, 2}}, {{9, 4, 0, 7}, {0, 0, 0, 0}}, {{6, 3, 11}, {60, 2, 14}}};
  for (const auto& [before, after] : groups) {
    const LogRatioDensity density = paired_posterior(arm(before, after), {});
    // Ratios of densities need no normalisation.
    const double eta_0 = density.quantile(0.5).value;
    const auto ours = [&](double eta) {
      const double position = (eta - density.start()) / density.step();
      return density.density()[static_cast<std::size_t>(std::lround(position))];
    };
    // At the points of the quadrature; three of four are interpolated between them.
    const auto on_grid = [&](double eta) {
      const double step = 4 * density.step();
      return density.start() + step * std::round((eta - density.start()) / step);
    };
    const double reference = brute_force(before, after, on_grid(eta_0));
    for (const double p : {0.02, 0.2, 0.8, 0.98}) {
      const double eta = on_grid(density.quantile(p).value);
      CHECK_THAT(ours(eta) / ours(on_grid(eta_0)),
                 support::close_to(brute_force(before, after, eta) / reference, 5e-5));
    }
  }
}

TEST_CASE("Without variation within animals it is the Beta posterior of the pooled count") {
  // B | A+B binomial with p ~ Beta(1/2, 1/2): p ~ Beta(B + 1/2, A + 1/2). With tau at most
  // 1.7 x 0.003 the two differ by the order of tau^2 n, 0.005 of the variance at the most.
  const LogRatioDensity density = paired_posterior(arm(trial_a::before, trial_a::after), {0.003});
  const boost::math::beta_distribution<> pooled(8.5, 188.5);
  for (const double p : {0.05, 0.5, 0.95}) {
    const double q = boost::math::quantile(pooled, 1 - p);
    CHECK_THAT(100 * efficacy(density, p),
               Catch::Matchers::WithinAbs(100 * (1 - q / (1 - q)), 0.005));
  }
}

TEST_CASE("Animals without eggs say nothing, and order is irrelevant") {
  const LogRatioDensity plain = paired_posterior(arm({12, 5, 20}, {1, 0, 2}), {});
  const LogRatioDensity more = paired_posterior(arm({20, 0, 12, 5, 0}, {2, 0, 1, 0, 0}), {});
  for (const double p : {0.05, 0.95})
    CHECK_THAT(more.quantile(p).value,
               support::close_to(plain.quantile(p).value, support::many_steps));
}

TEST_CASE("Scaling both factors changes nothing; the ratio of the factors does") {
  const LogRatioDensity one = paired_posterior(arm(trial_a::before, trial_a::after), {});
  const LogRatioDensity fifty = paired_posterior(arm(trial_a::before, trial_a::after, 50, 50), {});
  const LogRatioDensity finer = paired_posterior(arm(trial_a::before, trial_a::after, 15, 5), {});
  for (const double p : {0.05, 0.5, 0.95}) {
    CHECK_THAT(fifty.quantile(p).value,
               support::close_to(one.quantile(p).value, support::many_steps));
    CHECK_THAT(finer.quantile(p).value - one.quantile(p).value,
               Catch::Matchers::WithinAbs(-std::log(3.0), support::on_a_grid));
  }
}

TEST_CASE("The returned error covers the true error, and is small for 15 animals") {
  const std::vector<std::pair<Eggs, Eggs>> groups{
      {{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25, 5, 33, 12},
       {0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1, 0, 0, 4}},
      {{14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25, 5, 33, 12}, Eggs(15, 0)},
      {{104, 85, 9, 76, 73, 9, 17, 28, 65, 25, 13, 17, 8, 89, 33},
       {69, 78, 28, 76, 67, 11, 19, 56, 62, 10, 13, 38, 5, 75, 20}},
      {{3, 2, 1}, {0, 1, 0}},
      {{3, 2, 10, 5}, {10, 8, 20, 1}}};
  for (const auto& [before, after] : groups) {
    const Arm counts = arm(before, after, 15, 15);
    const LogRatioDensity density = paired_posterior(counts, {});
    const LogRatioDensity refined =
        paired_posterior(counts, {}, {.eta_points = 321, .resolution = 3});
    for (const double p : {0.05, 0.95}) {
      const Quadrature eta = density.quantile(p);
      const double true_error = std::abs(eta.value - refined.quantile(p).value);
      CHECK(true_error <= eta.error + 1e-7); // the refined one errs as well
      if (before.size() == 15 && after[0] < before[0] / 2)
        CHECK(100 * std::exp(eta.value) * eta.error < 0.01); // percentage points
    }
  }
}

TEST_CASE("Limits of all kinds of counts are right to 0.01 percentage points or their error") {
  const std::vector<InventedArm> kinds{{},                  // the usual test
                                       {15, 20, 0.0, 1},    // none after
                                       {15, 20, 0.001, 3},  // one or none after
                                       {15, 3, 0.1, 3},     // few eggs
                                       {15, 200, 0.05, 3},  // many eggs
                                       {12, 2'000, 0.4, 4}, // very many, with outliers
                                       {15, 20, 0.5, 2},    // a dead drench
                                       {10, 20, 1.2, 2},    // more eggs after than before
                                       {5, 20, 0.05, 3},    // few animals
                                       {40, 20, 0.05, 3},   //
                                       {100, 30, 0.1, 5},   // many animals
                                       {15, 20, 0.05, 3, {15, 50, 5}, {5, 15}}, // mixed factors
                                       {5, 60, 0.08, 1.3, {5}, {1}},  // pools, counted finely after
                                       {20, 8, 0.02, 10, {50}, {50}}, // coarse counts
                                       {30, 500, 0.02, 20, {15}, {15}}}; // wildly different falls
  constexpr std::uint32_t of_each = 4;
  for (std::size_t kind = 0; kind < kinds.size(); ++kind)
    for (std::uint32_t number = 0; number < of_each; ++number) {
      const Arm counts = invented(kinds[kind], number);
      const LogRatioDensity density = paired_posterior(counts, {});
      const std::array<double, 2> fine = fine_quantiles(counts, density, {0.05, 0.95});
      const std::array<Quadrature, 2> ours{density.quantile(0.05), density.quantile(0.95)};
      for (std::size_t k = 0; k < fine.size(); ++k) {
        const double off = 100 * std::abs(std::exp(ours[k].value) - std::exp(fine[k]));
        const double stated = 100 * std::exp(ours[k].value) * std::expm1(ours[k].error);
        INFO("kind " << kind << ", number " << number << ", limit " << k << ": efficacy "
                     << 100 * (1 - std::exp(ours[k].value)) << "%, stated error " << stated);
        CHECK(off <= std::max(0.01, stated));
      }
    }
}

TEST_CASE("From 1 animal to 2,000, from 0 eggs to 100,000, at any factor") {
  std::vector<Arm> arms{arm({7}, {1}),
                        arm({7}, {0}),
                        arm({100'000, 54'321}, {0, 0}),
                        arm({30'000, 99'999, 54'321}, {15'000, 100'000, 100}),
                        arm({100'000, 100'000}, {99'000, 101'000}, 0.1, 1'000),
                        arm({1, 0}, {0, 100'000}, 1'000, 0.1),
                        arm({5, 3, 9}, {900, 2'000, 15}, 15, 5)};
  Eggs before;
  Eggs after;
  for (std::uint32_t i = 0; i < 2'000; ++i) {
    before.push_back(i * 7919 % 97);
    after.push_back(i * 104'729 % 97 * before.back() / 900);
  }
  arms.push_back(arm(before, after, 15, 5));
  for (const Arm& counts : arms) {
    const LogRatioDensity density = paired_posterior(counts, {});
    CHECK(std::isfinite(density.quantile(0.05).value));
    CHECK(density.quantile(0.05).value < density.quantile(0.5).value);
    CHECK(density.quantile(0.5).value < density.quantile(0.95).value);
    CHECK(density.quantile(0.5).error < 0.02);
  }
}

TEST_CASE("More eggs after treatment move the posterior up") {
  double last = -1e9;
  for (const std::uint32_t eggs : {0U, 1U, 2U, 5U, 20U, 100U}) {
    const double median = paired_posterior(arm({14, 30, 22}, {1, 0, eggs}), {}).quantile(0.5).value;
    CHECK(median > last);
    last = median;
  }
}

TEST_CASE("No egg before treatment is refused") {
  CHECK(support::input_error([] {
          paired_posterior(arm({0, 0}, {1, 0}), {});
        }) == "no animal had an egg before treatment, so there is no fall to estimate");
  CHECK_THROWS_AS(paired_posterior({support::counts({1, 2}, 1), support::counts({1}, 1)}, {}),
                  CalculationError);
  CHECK_THROWS_AS(paired_posterior(arm({5}, {1}), {0.0}), CalculationError);
}

TEST_CASE("Draws have the distribution of the posterior") {
  RandomStream stream({1, 2, 3});
  const Arm counts = arm(trial_a::before, trial_a::after);
  const LogRatioDensity density = paired_posterior(counts, {});
  constexpr int size = 20'000;
  const auto draws = draw_paired(counts, {}, size, stream);
  for (const double p : {0.05, 0.5, 0.95}) {
    const double eta = density.quantile(p).value;
    const auto below =
        std::ranges::count_if(draws, [&](const PairedState& s) { return s.log_ratio < eta; });
    // Four standard errors of a binomial share; the cells' flat tops cost a little more.
    CHECK_THAT(static_cast<double>(below) / size,
               Catch::Matchers::WithinAbs(p, 4 * std::sqrt(p * (1 - p) / size) + 0.002));
  }
}
