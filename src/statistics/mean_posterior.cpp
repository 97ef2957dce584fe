#include "eggfall/statistics/mean_posterior.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/posterior_grid.hpp"

#include <boost/math/special_functions/gamma.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t eta_points = 129;

/// Boost.Math in double, not long double: faster, and precise enough for log likelihoods.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

/// The animals counted at one factor, and the eggs seen in all of them.
struct Batch {
  double animals = 0;
  double eggs = 0;
};

struct CvNode {
  double cv = 0;
  double k = 0;
  /// The terms of the log likelihood that do not depend on eta, and the log prior of the CV.
  double constant = 0;
  double log_weight = 0;
  double log_coarse = 0;
};

/// log(1 + x), x >= 0, to full precision for small x too (Kahan), by whole arrays: Eigen has no
/// log1p that is fast for double.
Eigen::ArrayXd log_of_1_plus(const Eigen::ArrayXd& value) {
  constexpr double huge = 1e300; // keeps infinity, and so NaN, out of the quotient
  const Eigen::ArrayXd x = value.min(huge);
  const Eigen::ArrayXd sum = 1 + x;
  return (sum == 1).select(x, sum.log() * x / (sum - 1));
}

class MeanModel {
public:
  MeanModel(const std::vector<Count>& counts, const MeanPrior& prior)
      : prior_(prior), cv_{VariationPrior::lowest * prior.between_animals.scale,
                           VariationPrior::highest * prior.between_animals.scale} {
    double per_factor = 0;
    for (const Count& count : counts) {
      const auto eggs = static_cast<double>(count.eggs.value());
      Batch& batch = batches_[count.factor.value()];
      batch.animals += 1;
      batch.eggs += eggs;
      if (eggs > 0)
        counts_[eggs] += 1;
      per_factor += 1 / count.factor.value();
      total_ += eggs;
    }
    log_common_factor_ = std::log(static_cast<double>(counts.size()) / per_factor);
    animals_ = static_cast<double>(counts.size());
  }

  LogRatioDensity posterior() {
    const EtaGrid grid(located(), eta_points);
    const std::vector<CvNode> nodes = this->nodes();
    const Eigen::ArrayXXd joint = log_joint(grid, nodes);
    return LogRatioDensity(NestedLogDensity{
        grid.start, grid.step, marginal(joint, weights(nodes, &CvNode::log_weight)),
        marginal(joint, weights(nodes, &CvNode::log_coarse), 2)});
  }

  /// The range of eta that holds the posterior; that of the CV is narrowed on the way.
  Range located() {
    std::vector<CvNode> nodes;
    Eigen::ArrayXXd joint;
    const auto log_density = [&](const EtaGrid& grid) {
      nodes = cv_nodes(gauss_rule<15>(cv_));
      joint = log_joint(grid, nodes);
      return marginal(joint, weights(nodes, &CvNode::log_weight));
    };
    const auto narrow_cv = [&] { cv_ = narrowed(cv_, nodes, &CvNode::cv, joint); };
    constexpr double reach = 6;
    const double centre = std::log((total_ + 0.5) / animals_) + log_common_factor_;
    return fitted_range({centre - reach, centre + reach}, log_density, narrow_cv);
  }

  /// Nodes of the CV in its narrowed range.
  std::vector<CvNode> nodes() const { return cv_nodes(nested_rule<31>(cv_)); }

  /// Log likelihood x log(m) - (n k + x) log(1 + m/k) + constant, with both priors.
  Eigen::ArrayXXd log_joint(const EtaGrid& grid, const std::vector<CvNode>& nodes) const {
    const Eigen::ArrayXd eta =
        Eigen::ArrayXd::LinSpaced(static_cast<Eigen::Index>(grid.points), grid.start, grid.end());
    const Eigen::ArrayXd log_prior =
        (eta - log_common_factor_) / 2 -
        log_of_1_plus((eta - log_common_factor_).exp() / prior_.middle_eggs);
    Eigen::ArrayXXd joint(eta.size(), static_cast<Eigen::Index>(nodes.size()));
    for (std::size_t t = 0; t < nodes.size(); ++t)
      joint.col(static_cast<Eigen::Index>(t)) = log_prior + nodes[t].constant;
    for (const auto& [factor, batch] : batches_) {
      const Eigen::ArrayXd log_mean = eta - std::log(factor);
      const Eigen::ArrayXd mean = log_mean.exp();
      for (std::size_t t = 0; t < nodes.size(); ++t)
        joint.col(static_cast<Eigen::Index>(t)) +=
            batch.eggs * log_mean -
            (batch.animals * nodes[t].k + batch.eggs) * log_of_1_plus(mean / nodes[t].k);
    }
    return joint;
  }

private:
  std::vector<CvNode> cv_nodes(const std::vector<RuleNode>& rule) const {
    std::vector<CvNode> nodes;
    for (const auto& [cv, weight, coarse_weight] : rule) {
      const double k = 1 / (cv * cv);
      const double scaled = cv / prior_.between_animals.scale;
      double constant = -scaled * scaled / 2 - total_ * std::log(k);
      const double lgamma_k = boost::math::lgamma(k, InDouble());
      for (const auto& [eggs, animals] : counts_)
        constant += animals * (boost::math::lgamma(eggs + k, InDouble()) - lgamma_k);
      nodes.push_back({cv, k, constant, std::log(weight), std::log(coarse_weight)});
    }
    return nodes;
  }

  MeanPrior prior_;
  Range cv_;
  std::map<double, Batch> batches_; ///< By factor.
  std::map<double, double> counts_; ///< Animals by eggs seen, above 0.
  double total_ = 0;
  double animals_ = 0;
  double log_common_factor_ = 0;
};

/// One group's joint density of eta (rows) and its CV (columns), scaled to a highest of 1, by the
/// nodes' `log_weight`: the fine weights with every point of eta, or the coarse ones with every
/// second.
Eigen::MatrixXd bins(const Eigen::ArrayXXd& joint, const std::vector<CvNode>& nodes,
                     double CvNode::*log_weight, Eigen::Index every) {
  const Eigen::ArrayXXd log_bin = joint(Eigen::seq(0, Eigen::last, every), Eigen::all).rowwise() +
                                  weights(nodes, log_weight).transpose();
  // Arithmetic with denormal numbers takes a hundred times as long. With bins of at least e^-330, a
  // product of two bins and a tie (at least e^-40) is a normal number, and bins raised to that
  // still count for nothing.
  constexpr double least = -330;
  return (log_bin - log_bin.maxCoeff()).max(least).exp().matrix();
}

/// Two groups whose CVs are tied by the joint prior of two_means_posterior(). It holds the grids of
/// the two etas, which have a common step, and the nodes of the two CVs.
class TwoMeansModel {
public:
  TwoMeansModel(MeanModel above, MeanModel below, double cv_ratio)
      : above_(std::move(above)), below_(std::move(below)) {
    const Range above_range = above_.located();
    const Range below_range = below_.located();
    const double step = common_step(above_range.length(), below_range.length());
    above_grid_ = grid_from(above_range, step);
    below_grid_ = grid_from(below_range, step);
    above_nodes_ = above_.nodes();
    below_nodes_ = below_.nodes();
    above_joint_ = above_.log_joint(*above_grid_, above_nodes_);
    below_joint_ = below_.log_joint(*below_grid_, below_nodes_);
    tie_.resize(static_cast<Eigen::Index>(above_nodes_.size()),
                static_cast<Eigen::Index>(below_nodes_.size()));
    for (std::size_t t = 0; t < above_nodes_.size(); ++t)
      for (std::size_t c = 0; c < below_nodes_.size(); ++c) {
        const double scaled = std::log(above_nodes_[t].cv / below_nodes_[c].cv) / cv_ratio;
        tie_(static_cast<Eigen::Index>(t), static_cast<Eigen::Index>(c)) =
            std::exp(-scaled * scaled / 2);
      }
  }

  LogRatioDensity posterior() const {
    return LogRatioDensity(NestedLogDensity{above_grid_->start - below_grid_->end(),
                                            above_grid_->step,
                                            log_density_of_difference(&CvNode::log_weight, 1),
                                            log_density_of_difference(&CvNode::log_coarse, 2)});
  }

  std::vector<TwoMeansState> draws(std::size_t size, RandomStream& stream) const {
    const Eigen::MatrixXd above = bins(above_joint_, above_nodes_, &CvNode::log_weight, 1);
    const Eigen::MatrixXd below = bins(below_joint_, below_nodes_, &CvNode::log_weight, 1);
    const Eigen::ArrayXXd pair =
        (above.colwise().sum().transpose() * below.colwise().sum()).array() * tie_.array();
    const std::vector<double> pairs = cumulative(pair.reshaped());
    std::vector<TwoMeansState> result;
    for (std::size_t i = 0; i < size; ++i) {
      const std::size_t node = drawn(pairs, stream);
      const std::size_t t = node % above_nodes_.size();
      const std::size_t c = node / above_nodes_.size();
      result.push_back({{drawn_mean(above.col(static_cast<Eigen::Index>(t)), *above_grid_, stream),
                         above_nodes_[t].k},
                        {drawn_mean(below.col(static_cast<Eigen::Index>(c)), *below_grid_, stream),
                         below_nodes_[c].k}});
    }
    return result;
  }

private:
  /// A step that serves the narrower range without many points on the wider.
  static double common_step(double a, double b) {
    constexpr double usual = 128;
    constexpr double fewest = 32; // on the narrower range
    constexpr double most = 512;  // on the wider, while that leaves the fewest
    const double narrow = std::min(a, b);
    return std::min(narrow / fewest, std::max(narrow / usual, std::max(a, b) / most));
  }

  /// An odd number of points from the range's start to its end or just beyond.
  static EtaGrid grid_from(const Range& range, double step) {
    const auto pairs = static_cast<std::size_t>(std::ceil(range.length() / (2 * step) - 1e-9));
    return {{range.low, range.low + 2 * step * static_cast<double>(pairs)}, 2 * pairs + 1};
  }

  /// The log density of the difference of the two etas at each distance i of the grids' points:
  /// log sum_tc w_t w_c tie_tc sum_j above(i + j, t) below(j, c), t and c being nodes of the group
  /// above and below with the weights w.
  std::vector<double> log_density_of_difference(double CvNode::*log_weight,
                                                Eigen::Index every) const {
    const Eigen::MatrixXd mixed = bins(above_joint_, above_nodes_, log_weight, every) * tie_;
    const Eigen::MatrixXd below = bins(below_joint_, below_nodes_, log_weight, every);
    const Eigen::MatrixXd products = mixed * below.transpose();
    Eigen::ArrayXd sums = Eigen::ArrayXd::Zero(products.rows() + products.cols() - 1);
    for (Eigen::Index j = 0; j < products.cols(); ++j)
      sums.segment(products.cols() - 1 - j, products.rows()) += products.col(j).array();
    const Eigen::ArrayXd logs = sums.log();
    return {logs.begin(), logs.end()};
  }

  template <typename Density>
  static double drawn_mean(const Density& density, const EtaGrid& grid, RandomStream& stream) {
    const std::size_t bin = drawn(cumulative(density), stream);
    return std::exp(grid.eta(bin) + grid.step * (uniform(stream) - 0.5));
  }

  MeanModel above_;
  MeanModel below_;
  std::optional<EtaGrid> above_grid_;
  std::optional<EtaGrid> below_grid_;
  std::vector<CvNode> above_nodes_;
  std::vector<CvNode> below_nodes_;
  Eigen::ArrayXXd above_joint_;
  Eigen::ArrayXXd below_joint_;
  /// exp(-log(g_above/g_below)^2 / (2 s^2)) by node of the group above and node of the group below.
  Eigen::MatrixXd tie_;
};

MeanModel checked_model(const std::vector<Count>& counts, const MeanPrior& prior) {
  if (counts.empty())
    throw CalculationError("the posterior of a mean needs at least one count");
  if (!(prior.between_animals.scale > 0) || !(prior.middle_eggs > 0))
    throw CalculationError("the posterior of a mean was given an impossible prior");
  return {counts, prior};
}

TwoMeansModel checked_model(const std::vector<Count>& above, const std::vector<Count>& below,
                            const MeanPrior& prior) {
  if (!(prior.cv_ratio > 0))
    throw CalculationError("the posterior of two means was given an impossible prior");
  return {checked_model(above, prior), checked_model(below, prior), prior.cv_ratio};
}

} // namespace

LogRatioDensity mean_posterior(const std::vector<Count>& counts, const MeanPrior& prior) {
  return checked_model(counts, prior).posterior();
}

LogRatioDensity two_means_posterior(const std::vector<Count>& above,
                                    const std::vector<Count>& below, const MeanPrior& prior) {
  return checked_model(above, below, prior).posterior();
}

std::vector<TwoMeansState> draw_two_means(const std::vector<Count>& above,
                                          const std::vector<Count>& below, const MeanPrior& prior,
                                          std::size_t size, RandomStream& stream) {
  return checked_model(above, below, prior).draws(size, stream);
}

} // namespace eggfall
