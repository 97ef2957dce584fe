#include "statistics/paired_likelihood.hpp"

#include "base/softplus.hpp"

#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/special_functions/polygamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <tuple>
#include <utility>

namespace eggfall {
namespace {

using Eigen::Index;

constexpr double infinity = std::numeric_limits<double>::infinity();
/// An inner sum is the trapezoid sum over z of one animal's likelihood times the density of z. Its
/// terms that are certainly less than e^-kept of the largest are left out, ...
constexpr double kept = 16;
/// ... and so are places where the log density or the log likelihood is this far below its highest.
/// That is more than `kept`, because of an animal unlike all others even the largest term may be a
/// product of two tails.
constexpr int deepest_tail = 24;
/// A likelihood is taken for its plateau where it is within e^-plateau_depth of it.
constexpr double plateau_depth = 14;
/// Widest step of the inner sum, in units of z, at resolution 1. At the usual resolution of 1.15 it
/// is 0.6, and the sum then errs by a share of about e^(-pi^2/0.6).
constexpr double widest_step = 0.69;

/// Boost.Math in double, not long double: faster, and precise enough for weights.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

/// A place, in `direction` (-1 or 1) from `inside`, at or a little beyond the one where a
/// likelihood becomes negligible.
template <typename LogLikelihood>
double edge(const LogLikelihood& log_likelihood, double highest, double inside, double direction) {
  double outside = inside + direction;
  while (log_likelihood(outside) > highest - deepest_tail) {
    inside = outside;
    outside += direction *= 2;
  }
  constexpr int halvings = 5;
  for (int i = 0; i < halvings; ++i) {
    const double middle = (inside + outside) / 2;
    (log_likelihood(middle) > highest - deepest_tail ? inside : outside) = middle;
  }
  return outside;
}

/// The z at which its density is e^-depth of its highest: it falls as cosh(z/2)^(-2 kappa).
double reach_of_density(double kappa, double depth) {
  const double log_cosh = depth / (2 * kappa);
  constexpr double large = 30; // where log cosh(y) is y - log 2
  return 2 * (log_cosh < large ? std::acosh(std::exp(log_cosh)) : log_cosh + std::log(2.0));
}

/// A density of z need not reach further than this. Two animals with between 1 and 1,000,000 eggs
/// (EggsSeen::largest) on each side, at factors of one ratio, have log ratios of counts that differ
/// by less than 28.
constexpr double farthest_outlier = 30;

double reach_of_density(double kappa) {
  return std::max(reach_of_density(kappa, kept),
                  std::min(reach_of_density(kappa, deepest_tail), farthest_outlier));
}

/// The number of nodes of tau whose sums are taken side by side, in the lanes of vector registers.
constexpr Index lanes = 4;
using Lanes = Eigen::Array<double, lanes, 1>;
using LaneRows = Eigen::Array<double, lanes, Eigen::Dynamic>; ///< A column a place.

/// Neighbouring nodes, `size` <= `lanes` of them from `first` on.
struct NodeBlock {
  std::size_t first = 0;
  std::size_t size = 0;
};

/// All nodes in blocks of `lanes`. If one block is not full it is the first: its nodes have the
/// least tau, and so the shortest sums, and waste the least work in the empty lanes.
std::vector<NodeBlock> blocks_of(std::size_t nodes) {
  constexpr auto full = static_cast<std::size_t>(lanes);
  std::vector<NodeBlock> blocks;
  for (std::size_t end = nodes; end > 0; end -= blocks.back().size) {
    const std::size_t size = std::min(end, full);
    blocks.push_back({end - size, size});
  }
  std::ranges::reverse(blocks);
  return blocks;
}

/// The step of an inner sum. The grid of eta is refined to a lattice with `divisions` places a grid
/// step, and the sum takes every `stride`-th place of it.
struct SumStep {
  Index divisions = 1;
  Index stride = 1;

  auto operator<=>(const SumStep&) const = default;
};

/// Element d is a place beyond which a log density, or a log likelihood, is more than d below its
/// highest.
using PlacesByDepth = std::array<Index, deepest_tail + 1>;

/// The index into PlacesByDepth for a depth of 0 or more: the next whole number above it, at most
/// the deepest that is kept.
std::size_t whole_depth(double depth) {
  return static_cast<std::size_t>(std::min(depth + 1, 1.0 * deepest_tail));
}

/// The densities of z for the nodes of a block, times the lattice's step, at the places -reach to
/// reach of a lattice about z = 0. Column 0 is the place -reach.
struct BlockDensities {
  double highest_kappa = 0;
  double lowest_kappa = 0;
  Index reach = 0;
  PlacesByDepth reach_at{}; ///< Of the node with the widest density.
  LaneRows values;
  /// By stride: the sum of the values that are 1, 2, ... strides before a place.
  std::map<Index, LaneRows> before;

  Index places() const { return 2 * reach + 1; }

  const LaneRows& before_by(Index stride) {
    const auto [found, fresh] = before.try_emplace(stride);
    LaneRows& sums = found->second;
    if (fresh) {
      sums = LaneRows::Zero(lanes, places() + stride);
      for (Index k = stride; k < sums.cols(); ++k)
        sums.col(k) = sums.col(k - stride) + values.col(k - stride);
    }
    return sums;
  }
};

/// Values at places first, first + 1, ... of an inner sum.
struct Samples {
  Index first = 0;
  Eigen::ArrayXd values;

  Index end() const { return first + values.size(); }
};

Index floor_of(Index value, Index divisor) {
  return value >= 0 ? value / divisor : -((-value + divisor - 1) / divisor);
}

Index ceil_of(Index value, Index divisor) {
  return -floor_of(-value, divisor);
}

/// sum_i weights[i] densities.col(place + i). Even and odd terms have a sum each, since an addition
/// must wait for the one before it, and two chains of additions can run at once.
Lanes weighted_sum(const double* weights, Index size, const LaneRows& densities, Index place) {
  Lanes even = Lanes::Zero();
  Lanes odd = Lanes::Zero();
  Index i = 0;
  for (; i + 1 < size; i += 2) {
    even += weights[i] * densities.col(place + i);
    odd += weights[i + 1] * densities.col(place + i + 1);
  }
  if (i < size)
    even += weights[i] * densities.col(place + i);
  return even + odd;
}

/// The number of points of eta whose sums are taken together, so that a density is read once for
/// all of them.
constexpr Index together = 4;
using Sums = Eigen::Array<double, lanes, together>;

/// sum_i weights[i + q] densities.col(place + i stride) for q = 0, 1, 2, 3.
Sums weighted_sums(const double* weights, Index size, const LaneRows& densities, Index place,
                   Index stride) {
  Lanes a = Lanes::Zero();
  Lanes b = Lanes::Zero();
  Lanes c = Lanes::Zero();
  Lanes d = Lanes::Zero();
  for (Index i = 0; i < size; ++i, place += stride) {
    const Lanes density = densities.col(place);
    a += weights[i] * density;
    b += weights[i + 1] * density;
    c += weights[i + 2] * density;
    d += weights[i + 3] * density;
  }
  Sums sums;
  sums << a, b, c, d;
  return sums;
}

/// A pair's likelihood at the places first to end - 1 of an inner sum. It is padded by zeros on
/// both sides, which are read where some of the `together` sums begin later, or end earlier, than
/// others.
struct LikelihoodSamples {
  static constexpr Index padding = together - 1;
  Index first = 0;
  Index end = 0;
  PlacesByDepth first_at{};
  PlacesByDepth end_at{};
  Eigen::ArrayXd padded;

  const double* from(Index place) const { return padded.data() + (place - first + padding); }
};

/// A pair's likelihood on the grid of eta, where z = 0.
struct PairOnGrid {
  Eigen::ArrayXd log_likelihood;
  /// Times kappa, a lower bound of the log density of z (below its highest) at the z that takes a
  /// point of the grid to the likelihood's mode.
  Eigen::ArrayXd log_density;
  double at_mode = 0; ///< Log likelihood at its mode.

  /// A lower bound of the logarithm of the sum's largest term at a point of the grid: the larger of
  /// the bounds for the terms at z = 0 and at the likelihood's mode.
  double largest_term(Index point, double kappa) const {
    return std::max(log_likelihood(point), at_mode + kappa * log_density(point));
  }
};

/// How the places of a sum and the columns of the densities of z correspond, for one point of the
/// grid: place i of the sum has the column i stride - shift, and the places whose z is within
/// `reach` of 0 are least <= i < most.
struct PointPlaces {
  Index stride;
  Index shift;
  Index least;
  Index most;

  PointPlaces(Index point, const SumStep& step, const BlockDensities& densities, Index reach)
      : stride(step.stride), shift(point * step.divisions - densities.reach),
        least(ceil_of(point * step.divisions - reach, stride)),
        most(floor_of(point * step.divisions + reach, stride) + 1) {}

  Index clamped(Index place) const { return std::clamp(place, least, most); }
  Index column(Index place) const { return place * stride - shift; }
};

/// The inner sum of one pair and one block of nodes.
class InnerSum {
public:
  InnerSum(const CountPair& pair, const PairOnGrid& on_grid, const LikelihoodSamples& likelihood,
           BlockDensities& densities, const SumStep& step)
      : on_grid_(on_grid), likelihood_(likelihood), densities_(densities), step_(step),
        before_left_(pair.falls_to_plateau() ? &densities.before_by(step.stride) : nullptr),
        before_right_(pair.rises_to_plateau() ? &densities.before_by(step.stride) : nullptr) {}

  /// Sets `sums` to the inner sums: a column for each point of the grid, a row for each node.
  void put_into(LaneRows& sums) const {
    if (step_.divisions > 1)
      put_one_by_one(sums);
    else
      put_together(sums);
    sums = sums.max(0.0); // rounding, and moments, may go below
  }

private:
  /// What matters for the points from one to another: of the likelihood, for the narrowest
  /// density, and of the widest density.
  struct Depths {
    std::size_t of_likelihood = 0;
    std::size_t of_density = 0;
  };

  Depths depths(Index point, Index other) const {
    // Between two points the bound of the largest term is no lower than at the lower of the two.
    const auto depth = [&](double kappa) {
      return whole_depth(kept - std::min(on_grid_.largest_term(point, kappa),
                                         on_grid_.largest_term(other, kappa)));
    };
    return {depth(densities_.highest_kappa), depth(densities_.lowest_kappa)};
  }

  void put_one_by_one(LaneRows& sums) const {
    for (Index j = 0; j < sums.cols(); ++j) {
      const Depths depth = depths(j, j);
      const PointPlaces places(j, step_, densities_, densities_.reach_at[depth.of_density]);
      const Index first = places.clamped(likelihood_.first_at[depth.of_likelihood]);
      const Index end = places.clamped(likelihood_.end_at[depth.of_likelihood]);
      Lanes sum = Lanes::Zero();
      if (end > first)
        sum = weighted_sum(likelihood_.from(first), end - first, densities_.values,
                           places.column(first));
      sums.col(j) = sum;
      add_plateaus(sums, j, 1);
    }
  }

  /// Where the lattice is the grid itself, points a stride apart use the same densities, but each
  /// with the likelihood one place further on: so four of them can be summed in one pass.
  void put_together(LaneRows& sums) const {
    for (Index phase = 0; phase < step_.stride; ++phase)
      for (Index j = phase; j < sums.cols(); j += together * step_.stride) {
        // The last four of a phase are moved back to end within the grid, and so may repeat some
        // points already done.
        const Index over = j + (together - 1) * step_.stride - (sums.cols() - 1);
        put_four(sums, j - std::max(Index{0}, ceil_of(over, step_.stride)) * step_.stride);
      }
  }

  void put_four(LaneRows& sums, Index j) const {
    const Depths depth = depths(j, j + (together - 1) * step_.stride);
    const PointPlaces places(j, step_, densities_, densities_.reach_at[depth.of_density]);
    const Index first = places.clamped(likelihood_.first_at[depth.of_likelihood] - (together - 1));
    const Index end = places.clamped(likelihood_.end_at[depth.of_likelihood]);
    Sums four = Sums::Zero();
    if (end > first)
      four = weighted_sums(likelihood_.from(first), end - first, densities_.values,
                           places.column(first), step_.stride);
    for (Index q = 0; q < together; ++q)
      sums.col(j + q * step_.stride) = four.col(q);
    add_plateaus(sums, j, together);
  }

  /// Adds what the samples of the likelihood leave out where it has a plateau of 1, for `size`
  /// points from j on that are a stride apart: the sum of the densities before its first place, if
  /// the plateau is on the left, or from its end on, if it is on the right.
  void add_plateaus(LaneRows& sums, Index j, Index size) const {
    if (before_left_ == nullptr && before_right_ == nullptr)
      return;
    const PointPlaces places(j, step_, densities_, densities_.reach);
    const auto stride = static_cast<double>(step_.stride);
    for (Index q = 0; q < size; ++q) {
      auto sum = sums.col(j + q * step_.stride);
      if (before_left_ != nullptr)
        sum += stride * before_left_->col(places.column(places.clamped(likelihood_.first - q)));
      if (before_right_ != nullptr) // the density is symmetric
        sum += stride * before_right_->col(densities_.places() - 1 + step_.stride -
                                           places.column(places.clamped(likelihood_.end - q)));
    }
  }

  const PairOnGrid& on_grid_;
  const LikelihoodSamples& likelihood_;
  const BlockDensities& densities_;
  const SumStep& step_;
  const LaneRows* before_left_; ///< nullptr without a plateau there.
  const LaneRows* before_right_;
};

/// The product of the animals' likelihoods at every point of the grid, as a logarithm. Since
/// logarithms are slow, up to 15 factors are multiplied before one is taken: a factor that counts
/// is above e^-47, so that the product of 15 is still a normal number.
class LogProduct {
public:
  explicit LogProduct(Index points)
      : logs_(LaneRows::Zero(lanes, points)), product_(LaneRows::Ones(lanes, points)) {}

  void multiply(const LaneRows& factors, double times) {
    constexpr double most = 15;
    if (times > most) {
      logs_ += times * factors.log();
      return;
    }
    if (factors_ + times > most)
      take_logarithm();
    factors_ += times;
    for (double i = 0; i < times; ++i)
      product_ *= factors;
  }

  const LaneRows& logs() {
    take_logarithm();
    return logs_;
  }

private:
  void take_logarithm() {
    logs_ += product_.log();
    product_.setOnes();
    factors_ = 0;
  }

  LaneRows logs_;
  LaneRows product_;
  double factors_ = 0;
};

/// All sums of one grid. The likelihood of a pair is sampled once for all nodes; the densities of
/// a block of nodes once for all pairs, and read at wider steps by leaving places out.
class LikelihoodTable {
public:
  /// `nodes` ascend.
  LikelihoodTable(const std::vector<CountPair>& pairs, const std::vector<TauNode>& nodes,
                  const EtaGrid& grid, double resolution)
      : pairs_(pairs), nodes_(nodes), grid_(grid), resolution_(resolution),
        points_(static_cast<Index>(grid.points)), blocks_(blocks_of(nodes.size())),
        products_(blocks_.size(), LogProduct(points_)), sums_(lanes, points_) {
    for (const CountPair& pair : pairs_) {
      all_windows_.low = std::min(all_windows_.low, pair.window.low);
      all_windows_.high = std::max(all_windows_.high, pair.window.high);
      for (const NodeBlock& block : blocks_) {
        const SumStep step = step_for(pair, block);
        double& farthest = farthest_[step.divisions];
        farthest = std::max(farthest, farthest_of(pair));
        std::size_t& widest = widest_node_[step];
        widest = std::max(widest, block.first + block.size - 1);
      }
    }
    for (const CountPair& pair : pairs_)
      add(pair);
  }

  Eigen::ArrayXXd values() {
    Eigen::ArrayXXd result(points_, static_cast<Index>(nodes_.size()));
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      const auto size = static_cast<Index>(blocks_[b].size);
      result.middleCols(static_cast<Index>(blocks_[b].first), size) =
          products_[b].logs().topRows(size).transpose();
    }
    return result;
  }

private:
  double lattice(Index divisions) const { return grid_.step / static_cast<double>(divisions); }

  double step_of(const SumStep& step) const {
    return lattice(step.divisions) * static_cast<double>(step.stride);
  }

  static constexpr Index places_of_moments = 3;

  /// Whether a step is so short, beside the density of z, that the density can be sampled as it is.
  static bool is_resolved(const TauNode& node, double step) {
    constexpr double resolved = 0.95;
    return node.sd >= resolved * step;
  }

  /// Whether the density of z is so narrow that the pair's likelihood is as good as a polynomial of
  /// degree 7 over it: weights that share the density's first seven moments then serve as well as
  /// the density itself.
  static bool suits_moments(const TauNode& node, const CountPair& pair) {
    constexpr double narrow = 0.2;
    return node.sd <= narrow * pair.sd;
  }

  /// The widest step that is right for all nodes of a block.
  SumStep step_for(const CountPair& pair, const NodeBlock& block) const {
    const TauNode* const first = &nodes_[block.first];
    const double wanted = std::min(widest_step, pair.sd) / resolution_;
    SumStep step;
    // A grid this wide is one of those that lost the posterior: it need not be right.
    constexpr Index most_divisions = Index{1} << 30;
    while (lattice(step.divisions) > wanted && step.divisions < most_divisions)
      step.divisions *= 2;
    const Index most = points_ / together;
    // A wider step saves time only; so it must resolve the density with something to spare.
    constexpr double well_resolved = 1.2;
    const auto suits = [&](Index stride) {
      const double width = step_of({step.divisions, stride});
      return stride <= most && width <= wanted && first->sd >= well_resolved * width;
    };
    while (suits(step.stride + 1))
      ++step.stride;
    const auto is_right = [&](const TauNode& node) {
      return is_resolved(node, step_of(step)) || suits_moments(node, pair);
    };
    while (!std::all_of(first, first + block.size, is_right) && step.divisions < most_divisions)
      step.divisions *= 2;
    return step;
  }

  /// The largest |z| that matters to a pair. Without a plateau it is the furthest that the window
  /// of its likelihood lies from any point of the grid.
  double farthest_of(const CountPair& pair) const {
    if (pair.falls_to_plateau() || pair.rises_to_plateau())
      return infinity;
    return std::max(grid_.end() + pair.shift - pair.window.low,
                    pair.window.high - grid_.start - pair.shift);
  }

  /// How many places of a lattice from z = 0 on a node's density takes: at least those that moment
  /// weights need.
  Index reach_of(const TauNode& node, Index divisions) const {
    const double step = lattice(divisions);
    if (!is_resolved(node, step))
      return places_of_moments;
    const double reach = std::min(node.reach, farthest_.at(divisions));
    return std::max(places_of_moments, static_cast<Index>(std::ceil(reach / step)) + 1);
  }

  /// |z| + 2 log(1 + e^-|z|), which times -kappa is the log density of z but for a constant, at
  /// places 0, 1, ... of a lattice: for all nodes.
  const Eigen::ArrayXd& exponent(Index divisions) {
    const auto [found, fresh] = exponents_.try_emplace(divisions);
    if (fresh) {
      const Index size = reach_of(nodes_.back(), divisions) + 1;
      const Eigen::ArrayXd z =
          Eigen::ArrayXd::LinSpaced(size, 0, static_cast<double>(size - 1)) * lattice(divisions);
      found->second = z + 2 * (1 + (-z).exp()).log();
    }
    return found->second;
  }

  /// Weights at the places 0, +-1, +-2 and +-3 of a lattice with this step, with the moments of z.
  /// Its even cumulants of order r are 2 psi^(r-1)(kappa), psi being the digamma function, and its
  /// odd ones are 0. k are cumulants here, and m half the moments, both in units of the step.
  static Eigen::ArrayXd moment_weights(const TauNode& node, double step) {
    using boost::math::polygamma;
    const double k2 = std::pow(node.sd / step, 2);
    const double k4 = 2 * polygamma(3, node.kappa, InDouble()) / std::pow(step, 4);
    const double k6 = 2 * polygamma(5, node.kappa, InDouble()) / std::pow(step, 6);
    const double m2 = k2 / 2;
    const double m4 = (k4 + 3 * k2 * k2) / 2;
    const double m6 = (k6 + 15 * k4 * k2 + 15 * k2 * k2 * k2) / 2;
    // sum_j w_j j^(2r) = m_2r for j = 1, 2, 3.
    const double w1 = (36 * m2 - 13 * m4 + m6) / 24;
    const double w2 = (-9 * m2 + 10 * m4 - m6) / 60;
    const double w3 = (4 * m2 - 5 * m4 + m6) / 360;
    Eigen::ArrayXd weights(4);
    weights << 1 - 2 * (w1 + w2 + w3), w1, w2, w3;
    return weights;
  }

  /// The places beyond which a node's density is so deep below its highest, but never fewer than
  /// moment weights need.
  PlacesByDepth reach_by_depth(const TauNode& node, Index divisions) {
    PlacesByDepth result;
    result.fill(reach_of(node, divisions));
    if (!is_resolved(node, lattice(divisions)))
      return result;
    const Eigen::ArrayXd& size = exponent(divisions);
    Index place = 0;
    for (std::size_t depth = 0; depth < result.size(); ++depth) {
      while (place < result[depth] &&
             node.kappa * (size(place) - size(0)) < static_cast<double>(depth))
        ++place;
      result[depth] = std::max(place, std::min(result[depth], places_of_moments));
    }
    return result;
  }

  BlockDensities& densities(std::size_t block, Index divisions) {
    const auto [found, fresh] = densities_.try_emplace({block, divisions});
    if (fresh)
      fill(found->second, blocks_[block], divisions);
    return found->second;
  }

  void fill(BlockDensities& densities, const NodeBlock& block, Index divisions) {
    const TauNode& widest = nodes_[block.first + block.size - 1];
    densities.highest_kappa = nodes_[block.first].kappa;
    densities.lowest_kappa = widest.kappa;
    densities.reach = reach_of(widest, divisions);
    densities.reach_at = reach_by_depth(widest, divisions);
    const double step = lattice(divisions);
    LaneRows half = LaneRows::Zero(lanes, densities.reach + 1); // places 0, 1, ...
    if (is_resolved(widest, step))
      half = sampled(block, divisions, half.cols());
    for (std::size_t lane = 0; lane < block.size; ++lane) {
      const TauNode& node = nodes_[block.first + lane];
      if (is_resolved(node, step))
        continue;
      half.row(static_cast<Index>(lane)).setZero();
      half.row(static_cast<Index>(lane)).head(places_of_moments + 1) =
          moment_weights(node, step).transpose();
    }
    densities.values.resize(lanes, densities.places());
    densities.values.leftCols(half.cols()) = half.rowwise().reverse();
    densities.values.rightCols(half.cols()) = half;
  }

  /// The densities of z times the lattice's step at places 0, 1, ..., as they are.
  LaneRows sampled(const NodeBlock& block, Index divisions, Index size) {
    // Lanes without a node repeat the first: they take as long as any.
    Lanes kappa = Lanes::Constant(nodes_[block.first].kappa);
    Lanes log_norm = Lanes::Constant(nodes_[block.first].log_norm);
    for (std::size_t lane = 0; lane < block.size; ++lane) {
      kappa(static_cast<Index>(lane)) = nodes_[block.first + lane].kappa;
      log_norm(static_cast<Index>(lane)) = nodes_[block.first + lane].log_norm;
    }
    log_norm -= std::log(lattice(divisions));
    // A product with a denormal number takes a hundred times as long as another. Densities are
    // therefore raised to at least e^-330, which counts for nothing.
    constexpr double least = -330;
    const Eigen::ArrayXd& exponents = exponent(divisions);
    LaneRows result(lanes, size);
    for (Index k = 0; k < size; ++k)
      result.col(k) = (-kappa * exponents(k) - log_norm).max(least);
    return result.exp();
  }

  /// softplus(x) at the places of an inner sum: worked out once for all pairs with one shift, over
  /// the union of their windows.
  const Samples& softplus_at(double shift, const SumStep& step) {
    const auto [found, fresh] = softplus_.try_emplace({shift, step});
    if (fresh) {
      found->second = places_in(all_windows_, shift,
                                reach_of(nodes_[widest_node_.at(step)], step.divisions), step);
      found->second.values = softplus_of(found->second.values);
    }
    return found->second;
  }

  /// x at the places of an inner sum that lie in a window and at most `reach` places of the lattice
  /// outside the grid. Places are counted from the grid's start.
  Samples places_in(const Range& window, double shift, Index reach, const SumStep& step) const {
    const double off_grid = static_cast<double>(reach) * lattice(step.divisions);
    const double origin = grid_.start + shift;
    const double low = std::max(window.low, origin - off_grid);
    const double high = std::min(window.high, grid_.end() + shift + off_grid);
    const double width = step_of(step);
    Samples places{static_cast<Index>(std::floor((low - origin) / width)), {}};
    const Index size = std::max(Index{0}, static_cast<Index>(std::ceil((high - origin) / width)) +
                                              1 - places.first);
    places.values =
        origin + width * Eigen::ArrayXd::LinSpaced(size, static_cast<double>(places.first),
                                                   static_cast<double>(places.first + size - 1));
    return places;
  }

  /// The pair's likelihood times the sum's stride, since the densities are times the step of the
  /// lattice and the sum's own step is a stride of these.
  LikelihoodSamples likelihood(const CountPair& pair, Index reach, const SumStep& step) {
    constexpr Index padding = LikelihoodSamples::padding;
    const Samples x = places_in(pair.window, pair.shift, reach, step);
    const Index size = x.values.size();
    LikelihoodSamples samples{x.first, x.end(), {}, {}, Eigen::ArrayXd::Zero(size + 2 * padding)};
    samples.first_at.fill(samples.first);
    samples.end_at.fill(samples.end);
    if (size == 0)
      return samples;
    const Samples& softplus = softplus_at(pair.shift, step);
    const Eigen::ArrayXd log_likelihood =
        pair.after * x.values -
        pair.total * softplus.values.segment(x.first - softplus.first, size) - pair.highest;
    samples.padded.segment(padding, size) = log_likelihood.exp() * static_cast<double>(step.stride);
    Index first = 0;
    Index last = size - 1;
    for (int depth = deepest_tail; depth >= 0; --depth) {
      while (first < last && log_likelihood(first) < -depth)
        ++first;
      while (first < last && log_likelihood(last) < -depth)
        --last;
      samples.first_at[static_cast<std::size_t>(depth)] += first;
      samples.end_at[static_cast<std::size_t>(depth)] -= size - 1 - last;
    }
    return samples;
  }

  PairOnGrid on_grid(const CountPair& pair) {
    const Eigen::ArrayXd x =
        Eigen::ArrayXd::LinSpaced(points_, grid_.start, grid_.end()) + pair.shift;
    const auto [softplus, fresh] = softplus_on_grid_.try_emplace(pair.shift);
    if (fresh)
      softplus->second = softplus_of(x);
    // The log density falls by kappa 2 log cosh(z/2), and 2 log cosh(z/2) is at most |z| and at
    // most z^2/4.
    const Eigen::ArrayXd z = (x - pair.mode).abs();
    return {pair.after * x - pair.total * softplus->second - pair.highest, -z.min(z.square() / 4),
            pair.at_mode};
  }

  static Eigen::ArrayXd softplus_of(const Eigen::ArrayXd& x) {
    return x.max(0.0) + (1 + (-x.abs()).exp()).log();
  }

  void add(const CountPair& pair) {
    std::map<SumStep, std::vector<std::size_t>> blocks_by_step;
    for (std::size_t b = 0; b < blocks_.size(); ++b)
      blocks_by_step[step_for(pair, blocks_[b])].push_back(b);
    const PairOnGrid grid = on_grid(pair);
    for (const auto& [step, blocks] : blocks_by_step) {
      const Index reach = densities(blocks.back(), step.divisions).reach;
      const LikelihoodSamples samples = likelihood(pair, reach, step);
      for (const std::size_t b : blocks) {
        InnerSum(pair, grid, samples, densities(b, step.divisions), step).put_into(sums_);
        products_[b].multiply(sums_, pair.animals);
      }
    }
  }

  const std::vector<CountPair>& pairs_;
  const std::vector<TauNode>& nodes_;
  const EtaGrid& grid_;
  double resolution_;
  Index points_;
  std::vector<NodeBlock> blocks_;
  Range all_windows_{infinity, -infinity};
  std::map<Index, double> farthest_; ///< The largest |z| that matters, by divisions.
  std::map<SumStep, std::size_t> widest_node_;
  std::vector<LogProduct> products_; ///< By block.
  LaneRows sums_;                    ///< One pair's likelihoods for one block.
  std::map<Index, Eigen::ArrayXd> exponents_;
  std::map<std::pair<std::size_t, Index>, BlockDensities> densities_;
  std::map<std::pair<double, SumStep>, Samples> softplus_; ///< By shift.
  std::map<double, Eigen::ArrayXd> softplus_on_grid_;
};

} // namespace

CountPair::CountPair(double after_seen, double total_seen, double log_factor_ratio, double how_many)
    : after(after_seen), total(total_seen), shift(log_factor_ratio), animals(how_many) {
  const auto log_likelihood = [&](double x) { return after * x - total * softplus(x); };
  const bool has_mode = after > 0 && after < total;
  mode = (after > 0 ? std::log(after) : 0) - (after < total ? std::log(total - after) : 0);
  highest = has_mode ? log_likelihood(mode) : 0;
  at_mode = has_mode ? 0 : log_likelihood(mode);
  const double p = (after + 0.5) / (total + 1);
  sd = 1 / std::sqrt(total * p * (1 - p));
  // A likelihood without a mode rises to a plateau of height 1: it is within e^-depth of that
  // beyond |x| = depth + log(total).
  const double plateau = plateau_depth + std::log(total);
  window = {after > 0 ? edge(log_likelihood, highest, mode, -1) : -plateau,
            after < total ? edge(log_likelihood, highest, mode, 1) : plateau};
}

std::vector<CountPair> distinct_pairs(const Arm& arm) {
  std::map<std::tuple<double, double, double>, double> seen;
  for (std::size_t i = 0; i < arm.above.size(); ++i) {
    const auto after = static_cast<double>(arm.above[i].eggs.value());
    const double total = after + static_cast<double>(arm.below[i].eggs.value());
    const double shift = std::log(arm.below[i].factor.value() / arm.above[i].factor.value());
    if (total > 0)
      seen[{total, after, shift}] += 1;
  }
  std::vector<CountPair> pairs;
  for (const auto& [key, animals] : seen)
    pairs.emplace_back(std::get<1>(key), std::get<0>(key), std::get<2>(key), animals);
  return pairs;
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

Eigen::ArrayXXd paired_log_likelihood(const std::vector<CountPair>& pairs,
                                      const std::vector<TauNode>& nodes, const EtaGrid& grid,
                                      double resolution) {
  std::vector<Index> order(nodes.size());
  std::iota(order.begin(), order.end(), Index{0});
  const auto node_at = [&](Index t) -> const TauNode& {
    return nodes[static_cast<std::size_t>(t)];
  };
  std::ranges::sort(order, {}, [&](Index t) { return node_at(t).tau; });
  std::vector<TauNode> ascending;
  for (const Index t : order)
    ascending.push_back(node_at(t));
  Eigen::ArrayXXd result(static_cast<Index>(grid.points), static_cast<Index>(nodes.size()));
  result(Eigen::all, order) = LikelihoodTable(pairs, ascending, grid, resolution).values();
  return result;
}

} // namespace eggfall
