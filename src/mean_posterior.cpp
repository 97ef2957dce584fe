#include "eggfall/mean_posterior.hpp"

#include "eggfall/error.hpp"
#include "posterior_grid.hpp"

#include <boost/math/special_functions/gamma.hpp>

#include <cmath>
#include <map>

namespace eggfall {
namespace {

constexpr std::size_t eta_points = 129;

/// Animals counted at one factor.
struct Batch {
  double animals = 0;
  double eggs = 0;
};

struct CvNode {
  double cv = 0;
  double k = 0;
  double constant = 0; ///< Of the log likelihood, and the log prior.
  double log_weight = 0;
  double log_coarse = 0;
};

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
    log_pooled_factor_ = std::log(static_cast<double>(counts.size()) / per_factor);
    animals_ = static_cast<double>(counts.size());
  }

  LogRatioDensity posterior() {
    const EtaGrid grid(located(), eta_points);
    const std::vector<CvNode> nodes = cv_nodes(nested_rule<31>(cv_));
    const Eigen::ArrayXXd joint = log_joint(grid, nodes);
    return LogRatioDensity(NestedLogDensity{
        grid.start, grid.step, marginal(joint, weights(nodes, &CvNode::log_weight)),
        marginal(joint, weights(nodes, &CvNode::log_coarse), 2)});
  }

  std::vector<MeanState> draws(std::size_t size, RandomStream& stream) {
    const EtaGrid grid(located(), eta_points);
    const std::vector<CvNode> nodes = cv_nodes(nested_rule<31>(cv_));
    std::vector<MeanState> result;
    for (const GridDraw& at :
         draw(log_joint(grid, nodes), weights(nodes, &CvNode::log_weight), grid, size, stream))
      result.push_back({std::exp(at.eta), nodes[at.node].k});
    return result;
  }

private:
  std::vector<CvNode> cv_nodes(const std::vector<RuleNode>& rule) const {
    std::vector<CvNode> nodes;
    for (const auto& [cv, weight, coarse_weight] : rule) {
      const double k = 1 / (cv * cv);
      const double scaled = cv / prior_.between_animals.scale;
      double constant = -scaled * scaled / 2 - total_ * std::log(k);
      const double lgamma_k = boost::math::lgamma(k);
      for (const auto& [eggs, animals] : counts_)
        constant += animals * (boost::math::lgamma(eggs + k) - lgamma_k);
      nodes.push_back({cv, k, constant, std::log(weight), std::log(coarse_weight)});
    }
    return nodes;
  }

  /// Log likelihood x log(m) - (n k + x) log(1 + m/k) + constant, with both priors.
  Eigen::ArrayXXd log_joint(const EtaGrid& grid, const std::vector<CvNode>& nodes) const {
    Eigen::ArrayXXd joint(static_cast<Eigen::Index>(grid.points),
                          static_cast<Eigen::Index>(nodes.size()));
    for (std::size_t i = 0; i < grid.points; ++i) {
      const double log_eggs = grid.at(i) - log_pooled_factor_;
      const double log_prior = log_eggs / 2 - std::log1p(std::exp(log_eggs) / prior_.middle_eggs);
      for (std::size_t t = 0; t < nodes.size(); ++t) {
        double value = log_prior + nodes[t].constant;
        for (const auto& [factor, batch] : batches_) {
          const double log_mean = grid.at(i) - std::log(factor);
          value += batch.eggs * log_mean - (batch.animals * nodes[t].k + batch.eggs) *
                                               std::log1p(std::exp(log_mean) / nodes[t].k);
        }
        joint(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(t)) = value;
      }
    }
    return joint;
  }

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
    const double centre = std::log((total_ + 0.5) / animals_) + log_pooled_factor_;
    return fitted_range({centre - reach, centre + reach}, log_density, narrow_cv);
  }

  MeanPrior prior_;
  Range cv_;
  std::map<double, Batch> batches_; ///< By factor.
  std::map<double, double> counts_; ///< Animals by eggs seen, above 0.
  double total_ = 0;
  double animals_ = 0;
  double log_pooled_factor_ = 0;
};

MeanModel checked_model(const std::vector<Count>& counts, const MeanPrior& prior) {
  if (counts.empty())
    throw CalculationError("the posterior of a mean needs at least one count");
  if (!(prior.between_animals.scale > 0) || !(prior.middle_eggs > 0))
    throw CalculationError("the posterior of a mean was given an impossible prior");
  return {counts, prior};
}

} // namespace

LogRatioDensity mean_posterior(const std::vector<Count>& counts, const MeanPrior& prior) {
  return checked_model(counts, prior).posterior();
}

std::vector<MeanState> draw_mean(const std::vector<Count>& counts, const MeanPrior& prior,
                                 std::size_t size, RandomStream& stream) {
  return checked_model(counts, prior).draws(size, stream);
}

} // namespace eggfall
