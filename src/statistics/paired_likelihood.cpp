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
/// Terms of an inner sum that are certainly less than e^-kept of its largest are left out, ...
constexpr double kept = 16;
/// ... and so is what has a log density or a log likelihood this far below its highest: of an
/// animal unlike all others the largest term may be a product of two tails.
constexpr int deepest_tail = 24;
/// A likelihood is taken for its plateau where it is within e^-plateau_depth of it.
constexpr double plateau_depth = 14;
/// Widest step of the inner sum at resolution 1; at 1.15 it is 0.6, and the sum right to
/// e^(-pi^2/0.6).
constexpr double widest_step = 0.69;

/// Boost.Math in double, not long double: faster, and precise enough for weights.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

/// Where, from `inside` on in a direction, a likelihood is negligible: a little beyond.
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

/// No animal's log ratio of counts is further from the others'.
constexpr double farthest_outlier = 30;

double reach_of_density(double kappa) {
  return std::max(reach_of_density(kappa, kept),
                  std::min(reach_of_density(kappa, deepest_tail), farthest_outlier));
}

/// Nodes whose sums are taken side by side: as many as fill the registers that a sum needs.
constexpr Index lanes = 4;
using Lanes = Eigen::Array<double, lanes, 1>;
using LaneRows = Eigen::Array<double, lanes, Eigen::Dynamic>; ///< A column a place.

/// Neighbouring nodes, `size` <= `lanes` of them from `first` on.
struct NodeBlock {
  std::size_t first = 0;
  std::size_t size = 0;
};

/// The block that is not full is the first, whose sums are the shortest.
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

/// The step of an inner sum: `stride` places of a lattice of 1/`divisions` of the grid's step.
struct SumStep {
  Index divisions = 1;
  Index stride = 1;

  auto operator<=>(const SumStep&) const = default;
};

/// By depth: a place beyond which a logarithm is further than that below its highest.
using PlacesByDepth = std::array<Index, deepest_tail + 1>;

/// The next whole number above a depth (0 or more), for use with the above.
std::size_t whole_depth(double depth) {
  return static_cast<std::size_t>(std::min(depth + 1, 1.0 * deepest_tail));
}

/// The densities of z of a block, times the lattice's step, at places -reach ... reach.
struct BlockDensities {
  double highest_kappa = 0;
  double lowest_kappa = 0;
  Index reach = 0;
  PlacesByDepth reach_at{}; ///< Of the widest.
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

/// sum_i weights[i] densities.col(place + i). Two sums by turns, since an addition must wait for
/// the one before it.
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

/// Sums that read the same densities, each once for all of them.
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

/// A pair's likelihood at places first ... end - 1 of an inner sum, and zeros on both sides for
/// those of `together` sums that are not yet there, or no longer.
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
  Eigen::ArrayXd log_density; ///< At least so high at the likelihood's mode, by kappa.
  double at_mode = 0;         ///< Log likelihood there.

  /// A lower bound of the largest term's logarithm: that at z = 0 or that at the mode.
  double largest_term(Index point, double kappa) const {
    return std::max(log_likelihood(point), at_mode + kappa * log_density(point));
  }
};

/// Where a point of the grid stands in a sum: place i of the sum has the density's column
/// i stride - shift; those within `reach` of the middle are least <= i < most.
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

  /// At every point of the grid, a column each.
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
    // Between two points the bound is no lower than at both.
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

  /// On a lattice that is the grid itself, points a stride apart see the same places of the
  /// density, over each of which stands the next place of the likelihood.
  void put_together(LaneRows& sums) const {
    for (Index phase = 0; phase < step_.stride; ++phase)
      for (Index j = phase; j < sums.cols(); j += together * step_.stride) {
        // The last ones of a phase overlap with those before.
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

  /// For `size` points from j on, a stride apart: what lies before the likelihood's first place,
  /// where it is 1 on the left, or from its end on, where it is 1 on the right.
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

/// The product of likelihoods at every place of the grid, as a logarithm. Some factors are
/// multiplied before their logarithm is taken: what is left of a sum that counts is above e^-47.
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

  /// The step resolves the density of z, which then is summed as it is.
  static bool is_resolved(const TauNode& node, double step) {
    constexpr double resolved = 0.95;
    return node.sd >= resolved * step;
  }

  /// Over a density of z so narrow, the likelihood is a polynomial of degree 7: weights with the
  /// density's first seven moments do as well as the density.
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
    // Where a finer step is there for the asking, one that just resolves the density is not taken.
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

  /// How far z matters: without a plateau, between the grid and the window alone.
  double farthest_of(const CountPair& pair) const {
    if (pair.falls_to_plateau() || pair.rises_to_plateau())
      return infinity;
    return std::max(grid_.end() + pair.shift - pair.window.low,
                    pair.window.high - grid_.start - pair.shift);
  }

  /// Of a node's density on a lattice: places from 0 on, as many as moments need or more.
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

  /// Weights at places 0, +-1, +-2, +-3 with the moments of z: its even cumulants are
  /// 2 psi^(r-1)(kappa), its odd ones are 0.
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

  /// At least the places that moments need.
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
    // A product with a number so small that it is no normal number takes a hundred times as long
    // as another: what is raised to e^-330 counts for nothing either way.
    constexpr double least = -330;
    const Eigen::ArrayXd& exponents = exponent(divisions);
    LaneRows result(lanes, size);
    for (Index k = 0; k < size; ++k)
      result.col(k) = (-kappa * exponents(k) - log_norm).max(least);
    return result.exp();
  }

  /// softplus(x) at the places of an inner sum, of all pairs with one shift.
  const Samples& softplus_at(double shift, const SumStep& step) {
    const auto [found, fresh] = softplus_.try_emplace({shift, step});
    if (fresh) {
      found->second = places_in(all_windows_, shift,
                                reach_of(nodes_[widest_node_.at(step)], step.divisions), step);
      found->second.values = softplus_of(found->second.values);
    }
    return found->second;
  }

  /// x at the places of an inner sum that lie in a window and no more than `reach` places of the
  /// lattice off the grid, counted from its start.
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

  /// The pair's likelihood, times the sum's stride.
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
    // 2 log cosh(z/2) is at most |z|, and at most z^2/4.
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
  std::map<Index, double> farthest_; ///< That z matters, by divisions.
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
