#include "varying_efficacy.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "statistics/nested_rule.hpp"

#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>

#include <algorithm>
#include <cmath>

using namespace eggfall;

namespace {

/// A density or likelihood this far below its highest is left out of the sums.
constexpr double little = 12;
/// Beyond this z matters to no likelihood but by its plateau.
constexpr double farthest_z = 24;
/// Steps in one standard deviation of the narrower of two factors; the sum is then right to
/// e^(-2 pi^2 0.9^2).
constexpr double steps_a_sd = 0.9;
/// The widest step is 2^-1, which resolves a logistic curve.
constexpr int least_level = 1;

int level_for(double sd) {
  return std::max(least_level, static_cast<int>(std::ceil(std::log2(steps_a_sd / sd))));
}

std::vector<RuleNode> gauss_nodes(std::size_t points, const Range& range) {
  switch (points) {
  case 4:
    return gauss_rule<4>(range);
  case 7:
    return gauss_rule<7>(range);
  case 10:
    return gauss_rule<10>(range);
  case 12:
    return gauss_rule<12>(range);
  case 16:
    return gauss_rule<16>(range);
  case 24:
    return gauss_rule<24>(range);
  default:
    throw CalculationError("no Gauss rule of that many points was asked for before");
  }
}

/// c = bend sinh(v): nodes stand close together near 0, and far apart where c is large.
constexpr double bend = 0.3;

} // namespace

double VaryingPriors::log_prior(double efficacy_cv) const {
  const double scaled = efficacy_cv / efficacy_scale;
  return tail == EfficacyTail::half_normal ? -scaled * scaled / 2 : -std::log1p(scaled * scaled);
}

double VaryingPriors::highest_efficacy_cv() const {
  constexpr double highest = 3;
  return tail == EfficacyTail::half_normal ? VariationPrior::highest * efficacy_scale : highest;
}

/// An animal's eggs, and animals like it.
struct VaryingEfficacy::Pair {
  Pair(double after_seen, double total_seen, double log_factor_ratio, double how_many)
      : after(after_seen), total(total_seen), shift(log_factor_ratio), animals(how_many) {
    const double p = (after + 0.5) / (total + 1);
    level = level_for(1 / std::sqrt(total * p * (1 - p)));
    const bool has_mode = after > 0 && after < total;
    mode = has_mode ? std::log(after) - std::log(total - after) : 0;
    highest = has_mode ? log_likelihood(mode) : 0;
    const double plateau = little + std::log(total);
    window = {after > 0 ? edge(-1) : -plateau, after < total ? edge(1) : plateau};
  }

  double log_likelihood(double x) const { return after * x - total * softplus(x); }

  /// Where the likelihood becomes little in a direction.
  double edge(double direction) const {
    double inside = mode;
    double outside = mode + direction;
    while (log_likelihood(outside) > highest - little)
      outside += direction *= 2;
    constexpr int halvings = 12;
    for (int i = 0; i < halvings; ++i) {
      const double middle = (inside + outside) / 2;
      (log_likelihood(middle) > highest - little ? inside : outside) = middle;
    }
    return outside;
  }

  double after;
  double total;
  double shift; ///< log(f_before / f_after)
  double animals;
  int level = 0; ///< The step 2^-level resolves the likelihood.
  double mode = 0;
  double highest = 0;
  Range window;
};

struct VaryingEfficacy::Group {
  explicit Group(const Arm& arm) {
    std::map<std::tuple<double, double, double>, double> seen;
    double at_1_before = 0;
    double at_1_after = 0;
    for (std::size_t i = 0; i < arm.above.size(); ++i) {
      const auto b = static_cast<double>(arm.above[i].eggs.value());
      const auto a = static_cast<double>(arm.below[i].eggs.value());
      const double f_after = arm.above[i].factor.value();
      const double f_before = arm.below[i].factor.value();
      at_1_before += 1 / f_before;
      at_1_after += 1 / f_after;
      eggs_before += a;
      eggs_after += b;
      if (a + b > 0) // an animal without any egg says nothing
        seen[{a + b, b, std::log(f_before / f_after)}] += 1;
    }
    if (eggs_before == 0)
      throw InputError("no animal had an egg before treatment, so there is no fall to estimate");
    shift = std::log(at_1_after / at_1_before);
    for (const auto& [key, animals] : seen)
      pairs.emplace_back(std::get<1>(key), std::get<0>(key), std::get<2>(key), animals);
  }

  double log_prior(double eta) const { return (eta + shift) / 2 - softplus(eta + shift); }

  std::vector<Pair> pairs;
  double shift = 0;
  double eggs_before = 0;
  double eggs_after = 0;
};

double VaryingEfficacy::Grid::step() const {
  return std::ldexp(1.0, -level);
}

double VaryingEfficacy::Grid::eta(Eigen::Index i) const {
  return static_cast<double>(first + i) * step();
}

std::vector<VaryingEfficacy::Node> VaryingEfficacy::nodes(const VaryingPriors& priors,
                                                          std::size_t tau_nodes,
                                                          std::size_t efficacy_nodes) {
  const double scale = priors.within_animals.scale;
  std::vector<Node> result;
  for (const RuleNode& tau :
       gauss_nodes(tau_nodes, {VariationPrior::lowest * scale, VariationPrior::highest * scale}))
    for (const RuleNode& bent :
         gauss_nodes(efficacy_nodes, {0, std::asinh(priors.highest_efficacy_cv() / bend)})) {
      Node node;
      node.tau = tau.x;
      node.efficacy_cv = bend * std::sinh(bent.x);
      const double before = tau.x * tau.x;
      node.alpha = 1 / before;
      node.beta = 1 / (before + node.efficacy_cv * node.efficacy_cv * (1 + before));
      const double scaled = tau.x / scale;
      node.log_weight = std::log(tau.weight * bent.weight * std::cosh(bent.x)) -
                        scaled * scaled / 2 + priors.log_prior(node.efficacy_cv);
      node.level = level_for(
          std::sqrt(boost::math::trigamma(node.alpha) + boost::math::trigamma(node.beta)));
      result.push_back(node);
    }
  std::ranges::stable_sort(result, {}, &Node::level);
  return result;
}

VaryingEfficacy::Rule::Rule(std::vector<Node> nodes) : nodes_(std::move(nodes)) {
  for (std::size_t i = 0; i < nodes_.size(); ++i) {
    if (bands_.empty() || bands_.back().level != nodes_[i].level)
      bands_.push_back({i, 0, nodes_[i].level});
    ++bands_.back().nodes;
  }
}

/// `offset` is in units of 2^-16.
const VaryingEfficacy::Table& VaryingEfficacy::Rule::table(std::size_t band, int level,
                                                           int offset) {
  const auto [found, fresh] = tables_.try_emplace({band, level, offset});
  Table& table = found->second;
  if (!fresh)
    return table;
  const Band& here = bands_[band];
  const double step = std::ldexp(1.0, -level);
  // Each node's log density as a function of z, its mode, and how far it reaches.
  struct Density {
    double alpha;
    double beta;
    double log_norm;

    double log_at(double z) const {
      const double y = z - std::log(alpha / beta);
      return beta * y - (alpha + beta) * softplus(y) - log_norm;
    }
    /// Of the log density.
    double slope(double z) const {
      return beta - (alpha + beta) / (1 + std::exp(std::log(alpha / beta) - z));
    }
  };
  std::vector<Density> densities;
  double low = 0;
  double high = 0;
  for (std::size_t i = here.first; i < here.first + here.nodes; ++i) {
    const Node& node = nodes_[i];
    densities.push_back(
        {node.alpha, node.beta,
         std::lgamma(node.alpha) + std::lgamma(node.beta) - std::lgamma(node.alpha + node.beta)});
    const Density& density = densities.back();
    const double highest = density.log_at(0); // the mode is at z = 0
    while (low > -farthest_z && density.log_at(low) > highest - little)
      low -= step;
    while (high < farthest_z && density.log_at(high) > highest - little)
      high += step;
  }
  table.first = static_cast<Eigen::Index>(std::floor(low / step));
  const auto size = static_cast<Eigen::Index>(std::ceil(high / step)) + 1 - table.first;
  const auto rows = static_cast<Eigen::Index>(here.nodes);
  table.density.resize(rows, size);
  table.below.resize(rows, size + 2);
  for (Eigen::Index r = 0; r < rows; ++r) {
    const Density& density = densities[static_cast<std::size_t>(r)];
    const auto z_at = [&](Eigen::Index k) {
      return static_cast<double>(table.first + k) * step - std::ldexp(offset, -16);
    };
    // What lies beyond the first and the last column falls about geometrically.
    const auto beyond = [&](double z) {
      const double q = std::exp(-std::abs(density.slope(z)) * step);
      return step * std::exp(density.log_at(z)) * q / (1 - q);
    };
    table.below(r, 0) = beyond(z_at(0));
    for (Eigen::Index k = 0; k < size; ++k) {
      table.density(r, k) = step * std::exp(density.log_at(z_at(k)));
      table.below(r, k + 1) = table.below(r, k) + table.density(r, k);
    }
    table.below(r, size + 1) = table.below(r, size) + beyond(z_at(size - 1)); // all
  }
  return table;
}

/// Multiplies each node's likelihood (row) at each eta (column) by the pair's.
void VaryingEfficacy::multiply(Rule& rule, const Pair& pair, const Grid& grid,
                               Eigen::MatrixXd& product) {
  int sampled_level = -1;
  Eigen::Index first = 0;
  Eigen::VectorXd likelihood;
  Eigen::VectorXd sum;
  for (std::size_t b = 0; b < rule.bands().size(); ++b) {
    const Band& band = rule.bands()[b];
    const int level = std::max(pair.level, band.level);
    if (level != sampled_level) {
      // At x = shift + q step, q = first, ...
      sampled_level = level;
      const double step = std::ldexp(1.0, -level);
      first = static_cast<Eigen::Index>(std::floor((pair.window.low - pair.shift) / step));
      const auto last =
          static_cast<Eigen::Index>(std::ceil((pair.window.high - pair.shift) / step));
      const Eigen::ArrayXd x = pair.shift + step * Eigen::ArrayXd::LinSpaced(
                                                       last - first + 1, static_cast<double>(first),
                                                       static_cast<double>(last));
      likelihood =
          (pair.after * x - pair.total * (x.max(0.0) + (1 + (-x.abs()).exp()).log()) - pair.highest)
              .exp()
              .matrix();
    }
    for (Eigen::Index j = 0; j < grid.points; ++j) {
      const Eigen::Index eta = grid.first + j;
      // eta = whole step + offset
      const int coarser = grid.level - level;
      const Eigen::Index whole = coarser > 0 ? eta >> coarser : eta << -coarser;
      const Eigen::Index rest = coarser > 0 ? eta - (whole << coarser) : 0;
      const Table& table = rule.table(b, level, static_cast<int>(rest) << (16 - grid.level));
      const Eigen::Index size = table.density.cols();
      // Column k of the table stands beside sample k + to of the likelihood.
      const Eigen::Index to = table.first + whole - first;
      const Eigen::Index begin = std::clamp(-to, Eigen::Index{0}, size);
      const Eigen::Index end = std::clamp(likelihood.size() - to, begin, size);
      if (end > begin)
        sum.noalias() = table.density.middleCols(begin, end - begin) *
                        likelihood.segment(begin + to, end - begin);
      else
        sum.setZero(static_cast<Eigen::Index>(band.nodes));
      if (pair.after == 0) // the plateau on the left
        sum += table.below.col(begin);
      if (pair.after == pair.total) // and on the right
        sum += table.below.col(size + 1) - table.below.col(end);
      product.col(j)
          .segment(static_cast<Eigen::Index>(band.first), static_cast<Eigen::Index>(band.nodes))
          .array() *= sum.array();
    }
  }
}

Eigen::MatrixXd VaryingEfficacy::log_joint(Rule& rule, const Group& group, const Grid& grid) {
  const auto rows = static_cast<Eigen::Index>(rule.nodes().size());
  Eigen::MatrixXd result(rows, grid.points);
  for (Eigen::Index j = 0; j < grid.points; ++j)
    for (Eigen::Index t = 0; t < rows; ++t)
      result(t, j) =
          rule.nodes()[static_cast<std::size_t>(t)].log_weight + group.log_prior(grid.eta(j));
  // Logarithms are taken of the product of a few animals at once.
  constexpr int together = 8;
  Eigen::MatrixXd product = Eigen::MatrixXd::Ones(rows, grid.points);
  int factors = 0;
  const auto take = [&](double times) {
    result.array() += times * product.array().max(1e-300).log();
    product.setOnes();
    factors = 0;
  };
  for (const Pair& pair : group.pairs)
    if (pair.animals > 1) {
      multiply(rule, pair, grid, product);
      take(pair.animals);
    }
  for (const Pair& pair : group.pairs)
    if (pair.animals == 1) {
      multiply(rule, pair, grid, product);
      if (++factors == together)
        take(1);
    }
  take(1);
  return result;
}

std::vector<double> VaryingEfficacy::marginal(const Eigen::MatrixXd& log_joint) {
  const double highest = log_joint.maxCoeff();
  const Eigen::RowVectorXd sums = (log_joint.array() - highest).exp().matrix().colwise().sum();
  std::vector<double> result;
  for (const double sum : sums)
    result.push_back(std::log(std::max(sum, 1e-300)));
  return result;
}

/// By the few nodes of the pilot: a grid that holds the posterior.
VaryingEfficacy::Grid VaryingEfficacy::located(const Group& group) {
  constexpr double enough = 11; // log densities this far down are left off the grid
  const double centre =
      std::log((group.eggs_after + 0.5) / (group.eggs_before + 0.5)) - group.shift;
  Grid pilot{1, static_cast<Eigen::Index>(std::floor(2 * centre)) - 8, 17};
  for (;;) {
    const std::vector<double> density = marginal(log_joint(pilot_, group, pilot));
    const double highest = *std::ranges::max_element(density);
    const auto counts = [&](double value) { return value > highest - enough; };
    const Eigen::Index widen = pilot.points / 2;
    const bool low_cut = counts(density.front());
    const bool high_cut = counts(density.back());
    if (low_cut || high_cut) {
      pilot.first -= low_cut ? widen : 0;
      pilot.points += (low_cut ? widen : 0) + (high_cut ? widen : 0);
      continue;
    }
    const auto first = std::ranges::find_if(density, counts) - density.begin() - 1;
    const auto last = density.rend() - std::find_if(density.rbegin(), density.rend(), counts);
    if (last - first < 6 && pilot.level < 8) { // too coarse to tell how narrow it is
      pilot = {pilot.level + 2, (pilot.first + first) * 4, (last - first) * 4 + 1};
      continue;
    }
    Grid grid{pilot.level, pilot.first + first, last - first + 1};
    while (grid.points < static_cast<Eigen::Index>(rules_.fewest_points))
      grid = {grid.level + 1, grid.first * 2, grid.points * 2 - 1};
    grid.points += grid.points % 2 == 0 ? 1 : 0;
    return grid;
  }
}

void VaryingEfficacy::note_moments(const Eigen::MatrixXd& log_joint) {
  const Eigen::VectorXd mass =
      (log_joint.array() - log_joint.maxCoeff()).exp().matrix().rowwise().sum();
  const auto moments = [&](double Node::*moment) {
    double sum = 0;
    double squares = 0;
    for (std::size_t t = 0; t < fine_.nodes().size(); ++t) {
      const double value = fine_.nodes()[t].*moment;
      const double share = mass(static_cast<Eigen::Index>(t)) / mass.sum();
      sum += share * value;
      squares += share * value * value;
    }
    return Moments{sum, std::sqrt(std::max(0.0, squares - sum * sum))};
  };
  tau_ = moments(&Node::tau);
  efficacy_cv_ = moments(&Node::efficacy_cv);
}

VaryingEfficacy::VaryingEfficacy(const VaryingPriors& priors, const VaryingRules& rules)
    : rules_(rules), pilot_(nodes(priors, 4, 4)),
      fine_(nodes(priors, rules.tau_nodes, rules.efficacy_nodes)) {}

LogRatioDensity VaryingEfficacy::posterior(const Arm& arm) {
  const Group group(arm);
  const Grid grid = located(group);
  const Eigen::MatrixXd joint = log_joint(fine_, group, grid);
  note_moments(joint);
  const std::vector<double> density = marginal(joint);
  NestedLogDensity nested{grid.eta(0), grid.step(), density, {}};
  for (std::size_t i = 0; i < density.size(); i += 2)
    nested.coarse.push_back(density[i]);
  return LogRatioDensity(nested);
}
