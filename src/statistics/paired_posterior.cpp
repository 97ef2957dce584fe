#include "eggfall/statistics/paired_posterior.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "statistics/paired_likelihood.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// The range of tau that matters, `joint` being the log density at `nodes`, which ascend.
Range narrowed_tau(const Range& range, const std::vector<TauNode>& nodes,
                   const Eigen::ArrayXXd& joint) {
  std::vector<double> taus;
  std::vector<double> kappas; // negative, so that they ascend too
  std::vector<double> log_posterior;
  for (std::size_t t = 0; t < nodes.size(); ++t) {
    taus.push_back(nodes[t].tau);
    kappas.push_back(-nodes[t].kappa);
    log_posterior.push_back(log_sum_exp(joint.col(static_cast<Eigen::Index>(t))) +
                            nodes[t].log_weight);
  }
  // Where tau is too small for how unlike the animals are, the log density is nearly linear in
  // kappa = 1/tau^2. In tau it bulges far above a straight line between two nodes, so that the
  // lower end is found in kappa.
  const auto minus_kappa = [](double tau) { return -1 / (tau * tau); };
  const double low =
      narrowed({minus_kappa(range.low), minus_kappa(range.high)}, kappas, log_posterior).low;
  return {1 / std::sqrt(-low), narrowed(range, taus, log_posterior).high};
}

/// The logarithm of the ratio of the eggs expected to be seen above the bar to those below it at
/// rho = 1. Added to log(rho) it gives log(rho'), on which the prior is set.
double shift_of_totals(const Arm& arm) {
  return std::log(exposure_of(arm.above) / exposure_of(arm.below));
}

/// The joint posterior of eta and tau on a grid, and its marginals.
class PairedModel {
public:
  PairedModel(const Arm& arm, const VariationPrior& prior, const PairedQuadrature& quadrature)
      : pairs_(distinct_pairs(arm)), shift_(shift_of_totals(arm)), prior_(prior),
        quadrature_(quadrature), tau_{VariationPrior::lowest * prior.scale,
                                      VariationPrior::highest * prior.scale} {}

  LogRatioDensity posterior() {
    const Range range = located();
    const std::vector<TauNode> nodes = tau_nodes(nested_rule<21>(tau_), prior_);
    // A posterior with a long tail spreads its points over that tail and leaves too few to the
    // bulk, so that the number of points is doubled until the limits are precise enough.
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
    for (const GridDraw& drawn : draw(log_joint(grid, nodes, quadrature_.resolution),
                                      weights(nodes, &TauNode::log_weight), grid, size, stream))
      result.push_back({drawn.eta, nodes[drawn.node].tau});
    return result;
  }

private:
  LogRatioDensity on(const EtaGrid& grid, const std::vector<TauNode>& nodes) const {
    const Eigen::ArrayXXd joint = log_joint(grid, nodes, quadrature_.resolution);
    return LogRatioDensity(NestedLogDensity{
        grid.start, grid.step, marginal(joint, weights(nodes, &TauNode::log_weight)),
        marginal(joint, weights(nodes, &TauNode::log_coarse), 2)});
  }

  double log_prior(double eta) const { return (eta + shift_) / 2 - softplus(eta + shift_); }

  Eigen::ArrayXXd log_joint(const EtaGrid& grid, const std::vector<TauNode>& nodes,
                            double resolution) const {
    Eigen::ArrayXXd joint = paired_log_likelihood(pairs_, nodes, grid, resolution);
    Eigen::ArrayXd prior(joint.rows());
    for (std::size_t i = 0; i < grid.points; ++i)
      prior(static_cast<Eigen::Index>(i)) = log_prior(grid.eta(i));
    joint.colwise() += prior;
    return joint;
  }

  /// Where the search for the posterior begins: about the log ratio of the totals of eggs, with
  /// half an egg added to each.
  Range starting_range() const {
    double after = 0.5;
    double before = 0.5;
    for (const CountPair& pair : pairs_) {
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
    constexpr double rough = 0.9; // right to a thousandth, which is enough to find a range
    const auto log_density = [&](const EtaGrid& grid) {
      nodes = tau_nodes(gauss_rule<7>(tau_), prior_);
      joint = log_joint(grid, nodes, std::min(rough, quadrature_.resolution));
      return marginal(joint, weights(nodes, &TauNode::log_weight));
    };
    const auto narrow_tau = [&] { tau_ = narrowed_tau(tau_, nodes, joint); };
    return fitted_range(starting_range(), log_density, narrow_tau);
  }

  std::vector<CountPair> pairs_;
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
