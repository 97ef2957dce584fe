#include "statistics/paired_likelihood.hpp"

#include "support/support.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace eggfall;

namespace {

/// One node at tau, with weights that do not matter.
std::vector<TauNode> node_at(double tau) {
  return tau_nodes({{tau, 1, 1}}, {});
}

/// log integral L(x + z) g(z) dz by adaptive quadrature in many pieces, L's highest being 1.
double by_quadrature(const CountPair& pair, double x, double tau) {
  using Kronrod = boost::math::quadrature::gauss_kronrod<double, 31>;
  const auto softplus = [](double y) {
    return std::max(y, 0.0) + std::log1p(std::exp(-std::abs(y)));
  };
  const double kappa = 1 / (tau * tau);
  const double log_norm = 2 * std::lgamma(kappa) - std::lgamma(2 * kappa);
  const auto log_term = [&](double z) {
    return pair.after * (x + z) - pair.total * softplus(x + z) - pair.highest +
           kappa * (z - 2 * softplus(z)) - log_norm;
  };
  // The term is log-concave, and its peak lies between those of its factors.
  double low = std::min(0.0, pair.mode - x);
  double high = std::max(0.0, pair.mode - x);
  for (int i = 0; i < 200; ++i) {
    const double third = (high - low) / 3;
    (log_term(low + third) < log_term(high - third) ? low : high) =
        log_term(low + third) < log_term(high - third) ? low + third : high - third;
  }
  const double peak = (low + high) / 2;
  const double highest = log_term(peak);
  constexpr double negligible = 45;
  const auto edge = [&](double direction) {
    double away = 1e-3;
    while (log_term(peak + direction * away) > highest - negligible)
      away *= 1.2;
    return peak + direction * away;
  };
  const double from = edge(-1);
  const double to = edge(1);
  constexpr int pieces = 40;
  double sum = 0;
  for (int i = 0; i < pieces; ++i)
    sum += Kronrod::integrate([&](double z) { return std::exp(log_term(z) - highest); },
                              from + (to - from) * i / pieces,
                              from + (to - from) * (i + 1) / pieces, 4, 1e-10);
  return highest + std::log(sum);
}

constexpr double tau_values[]{0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.2, 1.7};

} // namespace

TEST_CASE("Inner sums agree with adaptive quadrature, near and far from the counts") {
  const std::vector<CountPair> pairs{{0, 20, 0, 1},     {1, 20, 0, 1},       {3, 3, 0, 1},
                                     {0, 1, 0, 1},      {4, 15, 0.5, 1},     {30, 60, 0, 1},
                                     {55, 60, -1.1, 1}, {0, 900, 0, 1},      {40, 900, 0, 1},
                                     {900, 900, 0, 1},  {2'000, 3'000, 0, 1}};
  const EtaGrid wide({-9, 9}, 17);
  const EtaGrid usual({-5, 1}, 65);
  const EtaGrid narrow({-0.6, -0.2}, 33);
  for (const EtaGrid& grid : {wide, usual, narrow})
    for (const CountPair& pair : pairs) {
      std::vector<RuleNode> rule;
      for (const double tau : tau_values)
        rule.push_back({tau, 1, 1});
      const Eigen::ArrayXXd ours = paired_log_likelihood({pair}, tau_nodes(rule, {}), grid, 1.15);
      for (std::size_t t = 0; t < std::size(tau_values); ++t)
        for (std::size_t i = 0; i < grid.points; i += 8) {
          const double reference = by_quadrature(pair, grid.eta(i) + pair.shift, tau_values[t]);
          const double value = ours(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(t));
          INFO(pair.after << " of " << pair.total << ", tau " << tau_values[t] << ", eta "
                          << grid.eta(i) << ", step " << grid.step << ": " << value << " for "
                          << reference);
          // Trapezoids at steps of 0.6 are right to 1e-7 of the likelihood's highest.
          CHECK_THAT(std::exp(value), Catch::Matchers::WithinAbs(
                                          std::exp(reference), 1e-6 + 4e-5 * std::exp(reference)));
          // Tails: an outlier is still seen as one. Below e^-22 a sum may be left out.
          if (reference > -22)
            CHECK_THAT(value, Catch::Matchers::WithinAbs(reference, 0.3));
          else
            CHECK(value < -21);
        }
    }
}

TEST_CASE("The log likelihood of pairs is the sum of theirs, by their animals") {
  const EtaGrid grid({-4, 0}, 33);
  const std::vector<CountPair> pairs{{0, 20, 0, 1}, {2, 9, 0.3, 3}, {5, 60, 0, 40}, {1, 7, 0, 12}};
  const std::vector<TauNode> nodes = tau_nodes(nested_rule<21>({0.02, 1.7}), {});
  Eigen::ArrayXXd sum = Eigen::ArrayXXd::Zero(33, 21);
  for (const CountPair& pair : pairs)
    sum += pair.animals *
           paired_log_likelihood({{pair.after, pair.total, pair.shift, 1}}, nodes, grid, 1.15);
  const Eigen::ArrayXXd together = paired_log_likelihood(pairs, nodes, grid, 1.15);
  CHECK(together.rows() == 33);
  CHECK(together.cols() == 21);
  // Sums at other steps, where a wider density or a narrower likelihood shares the lattice.
  CHECK((together - sum).abs().maxCoeff() < 1e-6);
}

TEST_CASE("A value of tau has the same likelihood in whatever company") {
  const EtaGrid grid({-4, 0}, 33);
  const std::vector<CountPair> pairs{{0, 20, 0, 1}, {2, 9, 0, 1}};
  std::vector<TauNode> nodes = tau_nodes(gauss_rule<7>({0.02, 1.7}), {});
  std::swap(nodes[1], nodes[5]); // in whatever order, too
  const Eigen::ArrayXXd together = paired_log_likelihood(pairs, nodes, grid, 1.15);
  // Alone, it is summed at other steps than with a wider or narrower neighbour.
  for (std::size_t t = 0; t < nodes.size(); ++t) {
    const Eigen::ArrayXXd alone = paired_log_likelihood(pairs, node_at(nodes[t].tau), grid, 1.15);
    CHECK((together.col(static_cast<Eigen::Index>(t)) - alone.col(0)).abs().maxCoeff() < 1e-5);
  }
}

TEST_CASE("Animals with equal counts and factors are one pair; those without eggs are none") {
  const Arm arm{support::counts({1, 0, 1, 0, 2}, 15), support::counts({9, 0, 9, 4, 9}, 30)};
  const std::vector<CountPair> pairs = distinct_pairs(arm);
  REQUIRE(pairs.size() == 3);
  CHECK(pairs[0].total == 4);
  CHECK(pairs[0].after == 0);
  CHECK(pairs[0].falls_to_plateau());
  CHECK(!pairs[0].rises_to_plateau());
  CHECK(pairs[1].total == 10);
  CHECK(pairs[1].animals == 2);
  CHECK_THAT(pairs[1].shift, support::close_to(std::log(2.0)));
  CHECK_THAT(pairs[1].mode, support::close_to(std::log(1.0 / 9)));
  CHECK(pairs[2].total == 11);
}

TEST_CASE("Nodes of tau have the spread of a Beta's logit") {
  const std::vector<TauNode> nodes = tau_nodes(nested_rule<21>({0.02, 1}), {0.5});
  REQUIRE(nodes.size() == 21);
  std::size_t coarse = 0;
  for (const TauNode& node : nodes)
    coarse += std::isfinite(node.log_coarse) ? 1 : 0;
  CHECK(coarse == 10);
  // s ~ Beta(1, 1) is uniform, and its logit logistic: of variance pi^2/3.
  CHECK_THAT(node_at(1).front().sd, support::close_to(std::acos(-1.0) / std::sqrt(3.0)));
  CHECK_THAT(node_at(1).front().log_norm, Catch::Matchers::WithinAbs(0, support::other_order));
  // With tau = scale the half-normal prior is e^-1/2 of its highest.
  CHECK_THAT(tau_nodes({{0.5, 2, 0}}, {0.5}).front().log_weight,
             support::close_to(std::log(2.0) - 0.5));
}
