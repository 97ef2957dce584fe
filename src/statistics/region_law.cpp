#include "statistics/region_law.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/statistics/interval.hpp"
#include "statistics/nested_rule.hpp"

#include <Eigen/Core>
#include <boost/math/constants/constants.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

// The grid of eta. Its first bin holds all that lies below it, and its last all above. An eta below
// the grid's is a fall to less than one egg of the thousands that the largest trials count, which
// cannot be told from a fall to none.
constexpr double lowest_eta = -9.2; // log(1/10,000)
constexpr double highest_eta = 3.0; // log(20)
constexpr int parts_of_bin = 8;     // points over which a likelihood's mean in a bin is taken

constexpr double least_kind_spread = 0.08;

/// The box of the hyperparameters m, log v, r, w and q, and into how many bins each side is cut.
enum Side : std::size_t { of_mean, of_log_spread, of_between, of_share, of_log_ratio, sides };
using Box = std::array<Range, sides>;
using SideBins = std::array<int, sides>;
constexpr SideBins fine_bins{9, 8, 6, 6, 4};
constexpr SideBins rough_bins{7, 6, 4, 4, 3}; ///< A fifth as many nodes, to find the box with.

const Box whole_box{
    {{-8.5, 1.5}, {std::log(0.1), std::log(5.0)}, {0, 0.95}, {0.02, 0.98}, {-1.25, 1.25}}};

struct EtaBins {
  Eigen::ArrayXd edge; ///< The edges of the bins, one more than there are bins.
  Eigen::ArrayXd centre;
  Eigen::ArrayXd width;

  EtaBins() {
    std::vector<double> edges;
    const auto to = [&](double from, double until, double step) {
      const auto steps = static_cast<int>(std::lround((until - from) / step));
      for (int i = 0; i < steps; ++i)
        edges.push_back(from + (until - from) * i / steps);
    };
    to(lowest_eta, -6.0, 0.2);
    to(-6.0, 0.6, 0.1);
    to(0.6, highest_eta, 0.2);
    edges.push_back(highest_eta);
    edge = Eigen::Map<const Eigen::ArrayXd>(edges.data(), static_cast<Eigen::Index>(edges.size()));
    const Eigen::Index n = edge.size() - 1;
    width = edge.tail(n) - edge.head(n);
    centre = edge.head(n) + width / 2;
  }

  Eigen::Index size() const { return centre.size(); }
};

const EtaBins& eta_bins() {
  static const EtaBins all;
  return all;
}

/// One set of values of the hyperparameters, with the two kinds of farms that they describe.
struct RegionNode {
  double mean = 0;
  double spread = 0;
  double share = 0; ///< w
  double mean_1 = 0;
  double mean_2 = 0;
  double spread_1 = 0;
  double spread_2 = 0;
  double log_prior = 0;
};

RegionNode node_at(const std::array<double, sides>& point, const RegionPrior& prior) {
  RegionNode node;
  node.mean = point[of_mean];
  node.spread = std::exp(point[of_log_spread]);
  node.share = point[of_share];
  const double w = node.share;
  const double gap = node.spread * std::sqrt(point[of_between] / (w * (1 - w)));
  node.mean_1 = node.mean - w * gap;
  node.mean_2 = node.mean + (1 - w) * gap;
  const double ratio = std::exp(point[of_log_ratio]);
  const double first =
      node.spread * std::sqrt((1 - point[of_between]) / (1 - w + w * ratio * ratio));
  node.spread_1 = std::max(first, least_kind_spread);
  node.spread_2 = std::max(first * ratio, least_kind_spread);
  const double m = (node.mean - prior.middle) / prior.middle_spread;
  const double v = node.spread / prior.spread;
  constexpr double ratio_spread = 0.5;
  const double q = point[of_log_ratio] / ratio_spread;
  // The box is even in log v, so that the prior of v is multiplied by v.
  node.log_prior = -(m * m + v * v + q * q) / 2 + point[of_log_spread];
  return node;
}

double normal_share_below(double z) {
  return std::erfc(-z / boost::math::constants::root_two<double>()) / 2;
}

/// How much of a normally distributed kind of farms lies in each bin, by the density in its middle;
/// that is as good as exact for the spreads that are allowed.
Eigen::ArrayXd masses_of_kind(double mean, double spread) {
  const EtaBins& grid = eta_bins();
  const Eigen::ArrayXd z = (grid.centre - mean) / spread;
  constexpr double far = 700; // keeps exp() away from denormal numbers
  Eigen::ArrayXd mass = (-(z.square() / 2).min(far)).exp() * grid.width /
                        (spread * boost::math::constants::root_two_pi<double>());
  mass(0) += normal_share_below((lowest_eta - mean) / spread);
  mass(mass.size() - 1) += normal_share_below((mean - highest_eta) / spread);
  return mass / mass.sum();
}

Eigen::ArrayXd masses_of(const RegionNode& node) {
  return (1 - node.share) * masses_of_kind(node.mean_1, node.spread_1) +
         node.share * masses_of_kind(node.mean_2, node.spread_2);
}

/// The highest log L on the grid. Likelihoods are scaled by it, since a trial whose mode lies off
/// the grid would otherwise be 0 all over it.
double log_highest(const TrialLikelihood& likelihood) {
  return likelihood.log_at(std::clamp(likelihood.mode(), lowest_eta, highest_eta));
}

/// The mean of a likelihood over each bin, counting only what lies above `from` as if it were 0
/// below. The highest is scaled to 1, see log_highest().
Eigen::ArrayXd likelihood_in_bins(const TrialLikelihood& likelihood, double from) {
  const EtaBins& grid = eta_bins();
  const double highest = log_highest(likelihood);
  Eigen::ArrayXd result = Eigen::ArrayXd::Zero(grid.size());
  for (Eigen::Index i = 0; i < grid.size(); ++i) {
    const double low = std::max(grid.edge(i), from);
    const double step = (grid.edge(i + 1) - low) / parts_of_bin;
    if (step <= 0)
      continue;
    for (int part = 0; part < parts_of_bin; ++part)
      result(i) += std::exp(likelihood.log_at(low + step * (part + 0.5)) - highest);
    result(i) *= step / grid.width(i);
  }
  return result;
}

} // namespace

/// The tally's curves by bin of eta, and how often each was heard.
struct RegionCurves {
  std::vector<TrialLikelihood> likelihoods;
  Eigen::MatrixXd by_bin; ///< A row for each curve, a column for each bin.
  Eigen::VectorXd times;

  explicit RegionCurves(const RegionTally& tally)
      : times(static_cast<Eigen::Index>(tally.heard().size())) {
    Eigen::Index row = 0;
    for (const auto& [heard, number] : tally.heard()) {
      likelihoods.emplace_back(heard);
      times(row++) = static_cast<double>(number);
    }
    by_bin = above(lowest_eta);
  }

  Eigen::MatrixXd above(double eta) const {
    Eigen::MatrixXd result(times.size(), eta_bins().size());
    for (Eigen::Index row = 0; row < result.rows(); ++row)
      result.row(row) =
          likelihood_in_bins(likelihoods[static_cast<std::size_t>(row)], eta).transpose();
    return result;
  }
};

namespace {

using SideIndex = std::array<int, sides>;

/// Calls visit(number, index) for every bin of a box, in a fixed order.
template <typename Visit> void for_each_cell(const SideBins& bins_of_side, Visit&& visit) {
  SideIndex index{};
  Eigen::Index number = 0;
  std::size_t s = 0;
  while (s < sides) {
    visit(number++, index);
    s = 0;
    while (s < sides && ++index[s] == bins_of_side[s])
      index[s++] = 0;
  }
}

/// The node in the middle of every bin.
std::vector<RegionNode> nodes_of(const Box& box, const SideBins& bins_of_side,
                                 const RegionPrior& prior) {
  std::vector<RegionNode> nodes;
  for_each_cell(bins_of_side, [&](Eigen::Index, const SideIndex& index) {
    std::array<double, sides> point{};
    for (std::size_t s = 0; s < sides; ++s)
      point[s] = box[s].low + box[s].length() * (index[s] + 0.5) / bins_of_side[s];
    nodes.push_back(node_at(point, prior));
  });
  return nodes;
}

/// Each node's share of the posterior.
Eigen::ArrayXd weights_of(const std::vector<RegionNode>& nodes, const RegionCurves& curves) {
  const auto n = static_cast<Eigen::Index>(nodes.size());
  constexpr Eigen::Index block = 256; // keeps large tallies from filling the memory
  Eigen::ArrayXd log_weight(n);
  for (Eigen::Index first = 0; first < n; first += block) {
    const Eigen::Index size = std::min(block, n - first);
    Eigen::MatrixXd masses(eta_bins().size(), size);
    for (Eigen::Index i = 0; i < size; ++i) {
      const RegionNode& node = nodes[static_cast<std::size_t>(first + i)];
      masses.col(i) = masses_of(node);
      log_weight(first + i) = node.log_prior;
    }
    const Eigen::MatrixXd log_heard = (curves.by_bin * masses).array().log();
    log_weight.segment(first, size) += (log_heard.transpose() * curves.times).array();
  }
  const double highest = log_weight.maxCoeff();
  if (!std::isfinite(highest))
    throw CalculationError("a region that no population of farms explains");
  const Eigen::ArrayXd weight = (log_weight - highest).exp();
  return weight / weight.sum();
}

/// The box for the next round. Each side spans what holds the posterior but for its tails, and half
/// a bin more at either end; an end where the old box cut the posterior off moves out by two bins,
/// as far as whole_box allows.
Box closed_in(const Box& box, const SideBins& bins_of_side, const Eigen::ArrayXd& weights) {
  constexpr double tail = 1e-4;
  constexpr double cut_off = 1e-3;
  std::array<std::vector<double>, sides> marginal;
  for (std::size_t s = 0; s < sides; ++s)
    marginal[s].assign(static_cast<std::size_t>(bins_of_side[s]), 0.0);
  for_each_cell(bins_of_side, [&](Eigen::Index number, const SideIndex& index) {
    for (std::size_t s = 0; s < sides; ++s)
      marginal[s][static_cast<std::size_t>(index[s])] += weights(number);
  });
  Box result = box;
  for (std::size_t s = 0; s < sides; ++s) {
    const double bin = box[s].length() / bins_of_side[s];
    const auto first_kept = [&](auto begin, auto end) {
      double below = 0;
      auto place = begin;
      while (place + 1 != end && below + *place < tail)
        below += *place++;
      return static_cast<double>(place - begin);
    };
    const double low = first_kept(marginal[s].begin(), marginal[s].end());
    const double high = first_kept(marginal[s].rbegin(), marginal[s].rend());
    const auto wider = [&](double kept, double mass) {
      return kept == 0 && mass > cut_off ? 2.0 : 0.5;
    };
    result[s].low += bin * (low - wider(low, marginal[s].front()));
    result[s].high -= bin * (high - wider(high, marginal[s].back()));
    result[s].low = std::max(result[s].low, whole_box[s].low);
    result[s].high = std::min(result[s].high, whole_box[s].high);
  }
  return result;
}

bool settled(const Box& box, const Box& next) {
  constexpr double much = 0.12;
  for (std::size_t s = 0; s < sides; ++s)
    if (std::abs(next[s].low - box[s].low) + std::abs(next[s].high - box[s].high) >
        much * box[s].length())
      return false;
  return true;
}

/// Quantiles of a value of which each node has one. Nodes stand for whole bins, so that each value
/// is spread by a normal kernel as wide as a bin; the values are first drawn in towards their mean,
/// so that the variance stays what it is.
MedianAndLimits node_quantiles(const Eigen::ArrayXd& values, const Eigen::ArrayXd& weights,
                               double cell_width, double level) {
  check_level(level);
  const double mean = (weights * values).sum();
  const double variance = (weights * (values - mean).square()).sum();
  // The kernel has the standard deviation of a uniform law over a bin.
  const double kernel = std::min(cell_width / std::sqrt(12.0), std::sqrt(variance / 2));
  if (kernel <= 0)
    return {mean, mean, mean};
  const Eigen::ArrayXd drawn = mean + (values - mean) * std::sqrt(1 - kernel * kernel / variance);
  const auto quantile = [&](double p) {
    constexpr double reach = 9;
    double low = drawn.minCoeff() - reach * kernel;
    double high = drawn.maxCoeff() + reach * kernel;
    constexpr int halvings = 40;
    for (int i = 0; i < halvings; ++i) {
      const double middle = (low + high) / 2;
      double below = 0;
      for (Eigen::Index n = 0; n < drawn.size(); ++n)
        below += weights(n) * normal_share_below((middle - drawn(n)) / kernel);
      (below < p ? low : high) = middle;
    }
    return (low + high) / 2;
  };
  return {quantile((1 - level) / 2), quantile(0.5), quantile((1 + level) / 2)};
}

/// The eta below which the probability is p, for a law with these masses in the bins, each taken as
/// even over its bin.
double quantile_of_masses(const Eigen::ArrayXd& masses, double p) {
  const EtaBins& grid = eta_bins();
  double below = 0;
  for (Eigen::Index i = 0; i < masses.size(); ++i) {
    if (below + masses(i) >= p)
      return grid.edge(i) + grid.width(i) * (p - below) / masses(i);
    below += masses(i);
  }
  return highest_eta;
}

double mass_above(const Eigen::ArrayXd& masses, double eta) {
  const EtaBins& grid = eta_bins();
  return (masses * ((grid.edge.tail(grid.size()) - eta) / grid.width).max(0.0).min(1.0)).sum();
}

/// The eta that belongs to an efficacy; a larger eta is a lower efficacy.
double eta_of(double efficacy) {
  return efficacy < 1 ? std::log(1 - efficacy) : -std::numeric_limits<double>::infinity();
}

MedianAndLimits efficacies(const MedianAndLimits& eta) {
  return {-std::expm1(eta.upper), -std::expm1(eta.median), -std::expm1(eta.lower)};
}

/// The probabilities of 0, 1, 2, ... successes in independent trials, of which times(i) have the
/// success probability(i).
std::vector<double> poisson_binomial(const Eigen::ArrayXd& probability,
                                     const Eigen::VectorXd& times) {
  std::vector<double> law{1.0};
  for (Eigen::Index i = 0; i < probability.size(); ++i)
    for (double time = 0; time < times(i); ++time) {
      const double p = std::clamp(probability(i), 0.0, 1.0);
      law.push_back(law.back() * p);
      for (std::size_t k = law.size() - 2; k > 0; --k)
        law[k] += p * (law[k - 1] - law[k]);
      law[0] *= 1 - p;
    }
  return law;
}

} // namespace

struct RegionLaw::State {
  RegionCurves curves;
  double groups = 0;
  Eigen::MatrixXd masses; ///< By bin and node.
  Eigen::ArrayXd weights; ///< By node.
  Eigen::ArrayXd log_spread;
  Eigen::MatrixXd heard; ///< By curve and node: the curve's chance, up to a constant.
  Eigen::ArrayXd new_farm;
  std::array<double, sides> cell_width{};

  State(const RegionTally& tally, const RegionPrior& prior)
      : curves(tally), groups(static_cast<double>(tally.groups())) {
    Box box = whole_box;
    std::vector<RegionNode> nodes;
    Eigen::ArrayXd weight;
    for (const auto& [bins_of_side, most_rounds] :
         {std::pair(rough_bins, 16), std::pair(fine_bins, 6)}) {
      Box next = box;
      int round = 0;
      do {
        box = next;
        nodes = nodes_of(box, bins_of_side, prior);
        weight = weights_of(nodes, curves);
        next = closed_in(box, bins_of_side, weight);
      } while (++round < most_rounds && !settled(box, next));
    }
    for (std::size_t s = 0; s < sides; ++s)
      cell_width[s] = box[s].length() / fine_bins[s];
    keep(nodes, weight);
  }

  /// Keeps the nodes with the most weight, which leaves out at most one part in 10,000 of the
  /// posterior.
  void keep(const std::vector<RegionNode>& nodes, const Eigen::ArrayXd& weight) {
    constexpr double matters = 1e-4;
    std::vector<double> sorted(weight.begin(), weight.end());
    std::sort(sorted.begin(), sorted.end());
    double left_out = 0;
    std::size_t first = 0;
    while (left_out + sorted[first] < matters)
      left_out += sorted[first++];
    const double least = sorted[first];
    const Eigen::Index size = (weight >= least).count();
    masses.resize(eta_bins().size(), size);
    weights.resize(size);
    log_spread.resize(size);
    Eigen::Index kept = 0;
    for (std::size_t n = 0; n < nodes.size(); ++n) {
      const double of_node = weight(static_cast<Eigen::Index>(n));
      if (of_node < least)
        continue;
      masses.col(kept) = masses_of(nodes[n]);
      log_spread(kept) = std::log(nodes[n].spread);
      weights(kept++) = of_node;
    }
    weights /= weights.sum();
    heard = curves.by_bin * masses;
    new_farm = masses * weights.matrix();
  }
};

void RegionTally::add(const HeardLikelihood& heard, std::uint64_t times) {
  check(heard);
  if (times == 0)
    throw InputError("a group's likelihood: found 0 times; expected 1 or more");
  heard_[heard] += times;
  groups_ += times;
}

void RegionTally::add(const RegionTally& other) {
  for (const auto& [heard, times] : other.heard_)
    heard_[heard] += times;
  groups_ += other.groups_;
}

RegionLaw::RegionLaw(const RegionTally& tally, const RegionPrior& prior) {
  if (tally.groups() == 0)
    throw CalculationError("the law of a region without a group");
  state_ = std::make_shared<const State>(tally, prior);
}

MedianAndLimits RegionLaw::median_efficacy(double level) const {
  Eigen::ArrayXd eta(state_->weights.size());
  for (Eigen::Index n = 0; n < eta.size(); ++n)
    eta(n) = quantile_of_masses(state_->masses.col(n), 0.5);
  return efficacies(node_quantiles(eta, state_->weights, state_->cell_width[of_mean], level));
}

MedianAndLimits RegionLaw::mean_efficacy(double level) const {
  const Eigen::VectorXd rho = eta_bins().centre.exp();
  const Eigen::ArrayXd log_mean = (state_->masses.transpose() * rho).array().log();
  // The mean of rho changes with all five hyperparameters, so that its values at the nodes lie
  // closer together than bins of m do, and need a narrower kernel than m does.
  constexpr double less = 0.3;
  return efficacies(
      node_quantiles(log_mean, state_->weights, less * state_->cell_width[of_mean], level));
}

MedianAndLimits RegionLaw::spread(double level) const {
  const MedianAndLimits in_log =
      node_quantiles(state_->log_spread, state_->weights, state_->cell_width[of_log_spread], level);
  return {std::exp(in_log.lower), std::exp(in_log.median), std::exp(in_log.upper)};
}

MedianAndLimits RegionLaw::new_farm(double level) const {
  check_level(level);
  return efficacies({quantile_of_masses(state_->new_farm, (1 - level) / 2),
                     quantile_of_masses(state_->new_farm, 0.5),
                     quantile_of_masses(state_->new_farm, (1 + level) / 2)});
}

double RegionLaw::new_farm_below(double efficacy) const {
  return mass_above(state_->new_farm, eta_of(efficacy));
}

GroupsBelow RegionLaw::groups_below(double efficacy, double level) const {
  check_level(level);
  const State& s = *state_;
  const Eigen::ArrayXXd chance =
      (s.curves.above(eta_of(efficacy)) * s.masses).array() / s.heard.array();
  const Eigen::ArrayXd expected = (chance.matrix().transpose() * s.curves.times).array();
  GroupsBelow result;
  result.mean = (s.weights * expected).sum();
  const double tail = (1 - level) / 2;
  constexpr double exact_up_to = 300;
  if (s.groups <= exact_up_to) {
    std::vector<double> law(static_cast<std::size_t>(s.groups) + 1, 0.0);
    for (Eigen::Index n = 0; n < s.weights.size(); ++n) {
      const std::vector<double> of_node = poisson_binomial(chance.col(n), s.curves.times);
      for (std::size_t k = 0; k < law.size(); ++k)
        law[k] += s.weights(n) * of_node[k];
    }
    std::size_t lower = 0;
    for (double below = 0; below + law[lower] <= tail; ++lower)
      below += law[lower];
    std::size_t upper = law.size() - 1;
    for (double above = 0; above + law[upper] <= tail; --upper)
      above += law[upper];
    result.lower = lower;
    result.upper = upper;
    return result;
  }
  const Eigen::ArrayXd spread =
      ((chance * (1 - chance)).max(0.0).matrix().transpose() * s.curves.times)
          .array()
          .sqrt()
          .max(1e-9);
  // P(number <= k) by the normal law, with the correction of 1/2 for a whole number.
  const auto up_to = [&](double k) {
    double sum = 0;
    for (Eigen::Index n = 0; n < s.weights.size(); ++n)
      sum += s.weights(n) * normal_share_below((k + 0.5 - expected(n)) / spread(n));
    return sum;
  };
  // The least k with P(number <= k) above a probability.
  const auto least_above = [&](double p) {
    double low = -1;
    double high = s.groups;
    while (high - low > 1) {
      const double middle = std::floor((low + high) / 2);
      (up_to(middle) > p ? high : low) = middle;
    }
    return static_cast<std::uint64_t>(high);
  };
  result.lower = least_above(tail);
  result.upper = least_above(1 - tail);
  return result;
}

MedianAndLimits RegionLaw::of_group(const TrialLikelihood& group, double level) const {
  check_level(level);
  const State& s = *state_;
  const EtaBins& grid = eta_bins();
  const Eigen::RowVectorXd likelihood = likelihood_in_bins(group, lowest_eta).matrix().transpose();
  const Eigen::VectorXd chance = (likelihood * s.masses).transpose();
  // What all other groups and the hyperparameters say of this one, as a density by bin: each node's
  // weight is divided by the chance it gave to this group's own likelihood, which it has been
  // multiplied by already.
  const Eigen::ArrayXd density =
      (s.masses * (s.weights / chance.array()).matrix()).array() / grid.width;
  const Eigen::ArrayXd log_density = density.max(1e-300).log();
  // The quantiles are taken on a finer grid, since the likelihood of a large trial is narrower than
  // a bin.
  constexpr double deepest = 18;
  constexpr Eigen::Index points = 2'000;
  const double highest = log_highest(group);
  const auto end = [&](double from, double side) {
    double step = group.scale();
    double eta = std::clamp(from, lowest_eta, highest_eta);
    while (eta > lowest_eta && eta < highest_eta && group.log_at(eta) > highest - deepest) {
      eta += side * step;
      step *= 1.5;
    }
    return std::clamp(eta, lowest_eta, highest_eta);
  };
  double low = end(group.mode() - 1e-9, -1);
  double high = end(group.mode() + 1e-9, 1);
  if (group.mode() <= lowest_eta)
    high = end(lowest_eta + 1e-9, 1);
  if (group.mode() >= highest_eta)
    low = end(highest_eta - 1e-9, -1);
  const double step = (high - low) / points;
  Eigen::ArrayXd log_mass(points);
  Eigen::Index bin = 0;
  for (Eigen::Index i = 0; i < points; ++i) {
    const double eta = low + step * (static_cast<double>(i) + 0.5);
    while (bin + 1 < grid.size() && grid.edge(bin + 1) < eta)
      ++bin;
    // The log density is interpolated between the middles of two bins. The outermost bins stand by
    // themselves, since they hold all that lies beyond them too.
    const Eigen::Index next =
        std::clamp<Eigen::Index>(eta < grid.centre(bin) ? bin - 1 : bin + 1, 1, grid.size() - 2);
    const bool alone = bin == 0 || bin + 1 == grid.size() || next == bin;
    const double t = alone ? 0 : (eta - grid.centre(bin)) / (grid.centre(next) - grid.centre(bin));
    log_mass(i) = group.log_at(eta) + (1 - t) * log_density(bin) + t * log_density(next);
  }
  const Eigen::ArrayXd mass = (log_mass - log_mass.maxCoeff()).exp();
  const double total = mass.sum();
  const auto quantile = [&](double p) {
    double below = 0;
    Eigen::Index i = 0;
    while (i + 1 < points && below + mass(i) < p * total)
      below += mass(i++);
    return low + step * (static_cast<double>(i) + (p * total - below) / mass(i));
  };
  return efficacies({quantile((1 - level) / 2), quantile(0.5), quantile((1 + level) / 2)});
}

std::size_t RegionLaw::nodes() const {
  return static_cast<std::size_t>(state_->weights.size());
}

} // namespace eggfall
