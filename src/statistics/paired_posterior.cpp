#include "eggfall/statistics/paired_posterior.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "statistics/posterior_grid.hpp"

#include <Eigen/Core>
#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/special_functions/polygamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

namespace eggfall {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
/// Log densities this far below their highest are left out of the inner sums.
constexpr double negligible = 16;
/// Widest step of the inner sum: the sum is then right to e^(-pi^2/0.6).
constexpr double widest_step = 0.6;

/// Boost.Math in double, not long double: faster, and precise enough for weights.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

/// Animals that say the same of eta.
class Pair {
public:
  Pair(double after_seen, double total_seen, double log_factor_ratio, double how_many)
      : after(after_seen), total(total_seen), shift(log_factor_ratio), animals(how_many) {
    const bool has_mode = after > 0 && after < total;
    const double mode = has_mode ? std::log(after) - std::log(total - after) : 0;
    highest_ = has_mode ? log_likelihood(mode) : 0;
    const double p = (after + 0.5) / (total + 1);
    sd = 1 / std::sqrt(total * p * (1 - p));
    // A likelihood without a mode rises to a plateau of height 1: it is within
    // e^-negligible of that beyond |x| = negligible + log(total).
    const double plateau = negligible + std::log(total);
    window = {after > 0 ? edge(mode, -1) : -plateau, after < total ? edge(mode, 1) : plateau};
  }

  /// exp(b x - n softplus(x)), highest 1.
  Eigen::ArrayXd likelihood(const Eigen::ArrayXd& x) const {
    return (after * x - total * (x.max(0.0) + (1 + (-x.abs()).exp()).log()) - highest_).exp();
  }

  double after;
  double total;
  double shift;   ///< log(f_before / f_after)
  double animals; ///< How many animals share these counts.
  double sd = 0;  ///< Of the likelihood, about.
  Range window;   ///< Where it is not negligible, or not yet a plateau.

private:
  double log_likelihood(double x) const { return after * x - total * softplus(x); }

  /// Where, from `inside` on in a direction, the likelihood becomes negligible.
  double edge(double inside, double direction) const {
    double outside = inside + direction;
    while (log_likelihood(outside) > highest_ - negligible)
      outside += direction *= 2;
    constexpr int halvings = 20;
    for (int i = 0; i < halvings; ++i) {
      const double middle = (inside + outside) / 2;
      (log_likelihood(middle) > highest_ - negligible ? inside : outside) = middle;
    }
    return outside;
  }

  double highest_ = 0;
};

std::vector<Pair> distinct_pairs(const Arm& arm) {
  std::map<std::tuple<double, double, double>, double> seen;
  for (std::size_t i = 0; i < arm.above.size(); ++i) {
    const auto after = static_cast<double>(arm.above[i].eggs.value());
    const double total = after + static_cast<double>(arm.below[i].eggs.value());
    const double shift = std::log(arm.below[i].factor.value() / arm.above[i].factor.value());
    if (total > 0) // an animal without any egg says nothing
      seen[{total, after, shift}] += 1;
  }
  std::vector<Pair> pairs;
  for (const auto& [key, animals] : seen)
    pairs.emplace_back(std::get<1>(key), std::get<0>(key), std::get<2>(key), animals);
  return pairs;
}

/// log of the ratio of expected eggs seen at rho = 1: what turns rho into rho'.
double pooled_shift(const Arm& arm) {
  double before = 0;
  double after = 0;
  for (std::size_t i = 0; i < arm.above.size(); ++i) {
    before += 1 / arm.below[i].factor.value();
    after += 1 / arm.above[i].factor.value();
  }
  return std::log(after / before);
}

/// One value of tau: the distribution of z, and its weights in two rules.
struct TauNode {
  double tau = 0;
  double kappa = 0; ///< 1/tau^2
  double log_norm = 0;
  double sd = 0;         ///< Of z.
  double reach = 0;      ///< Beyond this z is negligible.
  double log_weight = 0; ///< Weight times prior.
  double log_coarse = 0; ///< The same in the coarser rule; -infinity if it lacks this node.
};

/// The z at which its density is e^-negligible of its highest: it falls as
/// cosh(z/2)^(-2 kappa).
double reach_of_density(double kappa) {
  const double log_cosh = negligible / (2 * kappa);
  constexpr double large = 30; // where log cosh(y) is y - log 2
  return 2 * (log_cosh < large ? std::acosh(std::exp(log_cosh)) : log_cosh + std::log(2.0));
}

std::vector<TauNode> tau_nodes(const std::vector<RuleNode>& rule, const VariationPrior& prior) {
  std::vector<TauNode> nodes;
  for (const auto& [tau, weight, coarse_weight] : rule) {
    const double scaled = tau / prior.scale;
    const double log_prior = -scaled * scaled / 2;
    TauNode node;
    node.tau = tau;
    node.kappa = 1 / (tau * tau);
    node.log_norm = 2 * boost::math::lgamma(node.kappa, InDouble()) -
                    boost::math::lgamma(2 * node.kappa, InDouble());
    node.sd = std::sqrt(2 * boost::math::trigamma(node.kappa, InDouble()));
    node.reach = reach_of_density(node.kappa);
    node.log_weight = std::log(weight) + log_prior;
    node.log_coarse = coarse_weight > 0 ? std::log(coarse_weight) + log_prior : -infinity;
    nodes.push_back(node);
  }
  return nodes;
}

/// Values at (first + k) step, k = 0, 1, ...
struct Samples {
  Eigen::Index first = 0;
  Eigen::ArrayXd values;
  Eigen::ArrayXd below; ///< Of a density: the sum of the values before each.

  Eigen::Index last() const { return first + values.size() - 1; }
};

/// Log likelihood of all pairs at every eta (rows) and tau (columns).
class LikelihoodTable {
public:
  LikelihoodTable(const std::vector<Pair>& pairs, const std::vector<TauNode>& nodes,
                  const EtaGrid& grid, double resolution)
      : nodes_(nodes), grid_(grid), resolution_(resolution),
        values_(Eigen::ArrayXXd::Zero(static_cast<Eigen::Index>(grid.points),
                                      static_cast<Eigen::Index>(nodes.size()))),
        sums_(static_cast<Eigen::Index>(grid.points)) {
    // Without a plateau, z matters only between the grid and the likelihoods' windows.
    for (const Pair& pair : pairs)
      farthest_ = pair.after == 0 || pair.after == pair.total
                      ? infinity
                      : std::max({farthest_, grid.end() + pair.shift - pair.window.low,
                                  pair.window.high - grid.start - pair.shift});
    for (const Pair& pair : pairs)
      add(pair);
  }

  const Eigen::ArrayXXd& values() const { return values_; }

private:
  /// The density of z is summed as it is where the step resolves it; where it is far narrower
  /// than the step, seven weights with its first seven moments do as well; in between, a finer
  /// step is taken.
  static constexpr double resolved = 0.95;
  static constexpr double narrow = 0.35;

  /// Halvings of the grid's step that the inner sum needs; below 0, doublings.
  int halvings(const Pair& pair, const TauNode& node) const {
    constexpr int least = -6;
    constexpr int most = 30;
    const auto for_step = [&](double step) {
      return std::clamp(static_cast<int>(std::ceil(std::log2(grid_.step / step))), least, most);
    };
    const int for_pair = for_step(std::min(widest_step, pair.sd / resolution_));
    const int for_node = for_step(node.sd / resolved);
    if (for_node <= for_pair)
      return for_pair;
    const int moments = std::max(for_pair, 0);
    return by_moments(node, moments) ? moments : for_node;
  }

  /// |z| + 2 log(1 + e^-|z|), which times -kappa is the log density of z but for a constant, at
  /// k step - phase of the grid. All nodes share it.
  const Samples& exponent(int level, int phase) {
    const auto [at, fresh] = exponents_.try_emplace({level, phase});
    if (fresh) {
      double farthest = 0;
      for (const TauNode& node : nodes_)
        if (!by_moments(node, level))
          farthest = std::max(farthest, reach_of(node));
      const double step = std::ldexp(grid_.step, -level);
      const auto reach = static_cast<Eigen::Index>(std::ceil(farthest / step)) + 1;
      const Eigen::ArrayXd size =
          (Eigen::ArrayXd::LinSpaced(2 * reach + 1, static_cast<double>(-reach),
                                     static_cast<double>(reach)) *
               step -
           phase * grid_.step)
              .abs();
      at->second = {-reach, size + 2 * (1 + (-size).exp()).log(), {}};
    }
    return at->second;
  }

  double reach_of(const TauNode& node) const { return std::min(node.reach, farthest_); }

  bool by_moments(const TauNode& node, int level) const {
    return level >= 0 && node.sd < narrow * std::ldexp(grid_.step, -level);
  }

  Samples sampled_density(const TauNode& node, int level, int phase) {
    const double step = std::ldexp(grid_.step, -level);
    const auto reach = static_cast<Eigen::Index>(std::ceil(reach_of(node) / step)) + 1;
    const Samples& shared = exponent(level, phase);
    return {-reach,
            (-node.kappa * shared.values.segment(-reach - shared.first, 2 * reach + 1) -
             (node.log_norm - std::log(step)))
                .exp(),
            {}};
  }

  /// Weights at -3 ... 3 steps with the moments of z: its even cumulants are
  /// 2 psi^(r-1)(kappa), its odd ones are 0.
  static Samples moment_weights(const TauNode& node, double step) {
    using boost::math::polygamma;
    const double k2 = 2 * polygamma(1, node.kappa, InDouble()) / std::pow(step, 2);
    const double k4 = 2 * polygamma(3, node.kappa, InDouble()) / std::pow(step, 4);
    const double k6 = 2 * polygamma(5, node.kappa, InDouble()) / std::pow(step, 6);
    const double m2 = k2 / 2;
    const double m4 = (k4 + 3 * k2 * k2) / 2;
    const double m6 = (k6 + 15 * k4 * k2 + 15 * k2 * k2 * k2) / 2;
    // sum_j w_j j^(2r) = m_2r for j = 1, 2, 3.
    const double w1 = (36 * m2 - 13 * m4 + m6) / 24;
    const double w2 = (-9 * m2 + 10 * m4 - m6) / 60;
    const double w3 = (4 * m2 - 5 * m4 + m6) / 360;
    Samples samples{-3, Eigen::ArrayXd(7), {}};
    samples.values << w3, w2, w1, 1 - 2 * (w1 + w2 + w3), w1, w2, w3;
    return samples;
  }

  /// The density of z of one node at one step size. A step wider than the grid's meets the
  /// points of the grid in several phases, each with samples of its own.
  const std::vector<Samples>& density(std::size_t node, int level) {
    const auto [at, fresh] = densities_.try_emplace({node, level});
    std::vector<Samples>& phases = at->second;
    if (!fresh)
      return phases;
    const double step = std::ldexp(grid_.step, -level);
    if (by_moments(nodes_[node], level))
      phases.push_back(moment_weights(nodes_[node], step));
    else
      for (int phase = 0; phase < phases_at(level); ++phase)
        phases.push_back(sampled_density(nodes_[node], level, phase));
    for (Samples& samples : phases) {
      samples.below.resize(samples.values.size() + 1);
      samples.below(0) = 0;
      for (Eigen::Index k = 0; k < samples.values.size(); ++k)
        samples.below(k + 1) = samples.below(k) + samples.values(k);
    }
    return phases;
  }

  static int phases_at(int level) { return level < 0 ? 1 << -level : 1; }

  /// The pair's likelihood, highest 1, at (k + first) step from the grid's start.
  Samples likelihood(const Pair& pair, double reach, double step) const {
    const double origin = grid_.start + pair.shift;
    const double low = std::max(pair.window.low, origin - reach);
    const double high = std::min(pair.window.high, grid_.end() + pair.shift + reach);
    Samples samples;
    samples.first = static_cast<Eigen::Index>(std::floor((low - origin) / step));
    const auto last = static_cast<Eigen::Index>(std::ceil((high - origin) / step));
    if (last < samples.first)
      return samples;
    const Eigen::ArrayXd x =
        origin + step * Eigen::ArrayXd::LinSpaced(last - samples.first + 1,
                                                  static_cast<double>(samples.first),
                                                  static_cast<double>(last));
    samples.values = pair.likelihood(x);
    return samples;
  }

  void add(const Pair& pair) {
    std::map<int, std::vector<std::size_t>> nodes_by_level;
    for (std::size_t t = 0; t < nodes_.size(); ++t)
      nodes_by_level[halvings(pair, nodes_[t])].push_back(t);
    for (const auto& [level, nodes] : nodes_by_level) {
      double reach = 0;
      for (const std::size_t t : nodes)
        reach = std::max(reach, reach_of(nodes_[t]));
      const Samples samples = likelihood(pair, reach, std::ldexp(grid_.step, -level));
      for (const std::size_t t : nodes)
        correlate(pair, samples, density(t, level), level, static_cast<Eigen::Index>(t));
    }
  }

  void correlate(const Pair& pair, const Samples& likelihood, const std::vector<Samples>& phases,
                 int level, Eigen::Index column) {
    const std::size_t points_a_step = phases.size();
    for (std::size_t j = 0; j < grid_.points; ++j) {
      // Index k of the likelihood stands beside index k - shift of the density.
      const Samples& density = phases[j % points_a_step];
      const auto steps = static_cast<Eigen::Index>(j / points_a_step);
      const Eigen::Index shift = (level > 0 ? steps << level : steps) + density.first;
      const Eigen::Index size = density.values.size();
      const Eigen::Index first = std::clamp(likelihood.first - shift, Eigen::Index{0}, size);
      const Eigen::Index end = std::clamp(likelihood.last() + 1 - shift, first, size);
      double sum = 0;
      if (end > first)
        sum = likelihood.values.segment(first + shift - likelihood.first, end - first)
                  .matrix()
                  .dot(density.values.segment(first, end - first).matrix());
      if (pair.after == 0) // the plateau on the left
        sum += density.below(first);
      if (pair.after == pair.total) // and on the right
        sum += density.below(size) - density.below(end);
      sums_(static_cast<Eigen::Index>(j)) = std::max(0.0, sum); // rounding may go below
    }
    values_.col(column) += pair.animals * sums_.log();
  }

  const std::vector<TauNode>& nodes_;
  const EtaGrid& grid_;
  double resolution_;
  double farthest_ = 0;
  Eigen::ArrayXXd values_;
  Eigen::ArrayXd sums_; ///< One column's likelihoods, before the logarithm.
  std::map<std::pair<int, int>, Samples> exponents_;
  std::map<std::pair<std::size_t, int>, std::vector<Samples>> densities_;
};

/// The joint posterior of eta and tau on a grid, and its marginals.
class PairedModel {
public:
  PairedModel(const Arm& arm, const VariationPrior& prior, const PairedQuadrature& quadrature)
      : pairs_(distinct_pairs(arm)), shift_(pooled_shift(arm)), prior_(prior),
        quadrature_(quadrature), tau_{VariationPrior::lowest * prior.scale,
                                      VariationPrior::highest * prior.scale} {}

  LogRatioDensity posterior() {
    const Range range = located();
    const std::vector<TauNode> nodes = tau_nodes(nested_rule<21>(tau_), prior_);
    // A long tail leaves few points to the bulk of the posterior.
    constexpr std::size_t most_points = 257;
    constexpr double level = 0.90;
    for (std::size_t points = quadrature_.eta_points;; points = 2 * points - 1) {
      LogRatioDensity density = on(EtaGrid(range, points), nodes);
      const RatioLimits limits = density.limits(level);
      if (*limits.error <= quadrature_.largest_error * (limits.upper - limits.lower) ||
          points >= most_points)
        return density;
    }
  }

  std::vector<PairedState> draws(std::size_t size, RandomStream& stream) {
    const EtaGrid grid(located(), quadrature_.eta_points);
    const std::vector<TauNode> nodes = tau_nodes(nested_rule<21>(tau_), prior_);
    std::vector<PairedState> result;
    for (const GridDraw& at :
         draw(log_joint(grid, nodes), weights(nodes, &TauNode::log_weight), grid, size, stream))
      result.push_back({at.eta, nodes[at.node].tau});
    return result;
  }

private:
  LogRatioDensity on(const EtaGrid& grid, const std::vector<TauNode>& nodes) const {
    const Eigen::ArrayXXd joint = log_joint(grid, nodes);
    return LogRatioDensity(NestedLogDensity{
        grid.start, grid.step, marginal(joint, weights(nodes, &TauNode::log_weight)),
        marginal(joint, weights(nodes, &TauNode::log_coarse), 2)});
  }

  double log_prior(double eta) const { return (eta + shift_) / 2 - softplus(eta + shift_); }

  Eigen::ArrayXXd log_joint(const EtaGrid& grid, const std::vector<TauNode>& nodes) const {
    Eigen::ArrayXXd joint = LikelihoodTable(pairs_, nodes, grid, quadrature_.resolution).values();
    for (std::size_t i = 0; i < grid.points; ++i)
      joint.row(static_cast<Eigen::Index>(i)) += log_prior(grid.at(i));
    return joint;
  }

  /// About the pooled ratio, with a half added to each total.
  Range starting_range() const {
    double after = 0.5;
    double before = 0.5;
    for (const Pair& pair : pairs_) {
      after += pair.animals * pair.after;
      before += pair.animals * (pair.total - pair.after);
    }
    constexpr double reach = 6;
    const double centre = std::log(after / before) - shift_;
    return {centre - reach, centre + reach};
  }

  /// The range of eta that holds the posterior; that of tau is narrowed on the way.
  Range located() {
    std::vector<TauNode> nodes;
    Eigen::ArrayXXd joint;
    const auto log_density = [&](const EtaGrid& grid) {
      nodes = tau_nodes(gauss_rule<7>(tau_), prior_);
      joint = log_joint(grid, nodes);
      return marginal(joint, weights(nodes, &TauNode::log_weight));
    };
    const auto narrow_tau = [&] { tau_ = narrowed(tau_, nodes, &TauNode::tau, joint); };
    return fitted_range(starting_range(), log_density, narrow_tau);
  }

  std::vector<Pair> pairs_;
  double shift_;
  VariationPrior prior_;
  PairedQuadrature quadrature_;
  Range tau_;
};

PairedModel checked_model(const Arm& arm, const VariationPrior& prior,
                          const PairedQuadrature& quadrature) {
  if (arm.above.size() != arm.below.size() || arm.above.empty())
    throw CalculationError("a paired posterior needs both samples of every animal");
  if (!(prior.scale > 0) || quadrature.eta_points < 33 || quadrature.eta_points % 2 == 0)
    throw CalculationError("a paired posterior was given an impossible prior or grid");
  if (totals_of(arm.below).eggs == 0)
    throw InputError("no animal had an egg before treatment, so there is no fall to estimate");
  return {arm, prior, quadrature};
}

} // namespace

LogRatioDensity paired_posterior(const Arm& arm, const VariationPrior& prior,
                                 const PairedQuadrature& quadrature) {
  return checked_model(arm, prior, quadrature).posterior();
}

std::vector<PairedState> draw_paired(const Arm& arm, const VariationPrior& prior, std::size_t size,
                                     RandomStream& stream) {
  return checked_model(arm, prior, {}).draws(size, stream);
}

} // namespace eggfall
