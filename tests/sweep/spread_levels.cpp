#include "spread_levels.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/error.hpp"
#include "statistics/nested_rule.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

using namespace eggfall;

namespace {

/// A value of an unknown, and the log of its weight with its prior.
struct Weighted {
  double value = 0;
  double log_weight = 0;
};

template <unsigned points>
std::vector<Weighted> efficacy_rule(const Range& range, const VaryingPriors& priors) {
  std::vector<Weighted> result;
  for (const RuleNode& node : gauss_rule<points>(range))
    result.push_back({node.x, std::log(node.weight) + priors.log_prior(node.x)});
  return result;
}

template <unsigned points>
std::vector<Weighted> half_normal_rule(const Range& range, double scale) {
  std::vector<Weighted> result;
  for (const RuleNode& node : gauss_rule<points>(range))
    result.push_back({node.x, std::log(node.weight) - node.x * node.x / (2 * scale * scale)});
  return result;
}

struct EggPair {
  double before = 0;
  double after = 0;

  auto operator<=>(const EggPair&) const = default;
};

/// What the likelihood is worked out for.
struct Unknowns {
  double first_eta = 0;
  double eta_step = 0;
  Eigen::Index etas = 0;
  std::vector<Weighted> tau;
  std::vector<Weighted> efficacy_cv;
  std::vector<Weighted> spread; ///< 1/sqrt(k)
  std::vector<Weighted> log_mean;

  Eigen::Index lucks() const { return static_cast<Eigen::Index>(tau.size() * efficacy_cv.size()); }
  Eigen::Index levels() const { return static_cast<Eigen::Index>(spread.size() * log_mean.size()); }
};

double negative_binomial(double eggs, double log_mean, double shape) {
  // shape log(shape/(shape + m)) + eggs log(m/(shape + m))
  const double odds = log_mean - std::log(shape);
  return std::lgamma(eggs + shape) - std::lgamma(shape) - std::lgamma(eggs + 1) + eggs * odds -
         (eggs + shape) * softplus(odds);
}

/// Log likelihood of all animals: rows are eta (slowest) and luck, columns are levels.
class LevelsLikelihood {
public:
  LevelsLikelihood(const std::map<EggPair, int>& pairs, const Unknowns& unknowns) : of_(unknowns) {
    double most = 0;
    double lowest_tau = 10;
    for (const auto& [pair, animals] : pairs)
      most = std::max(most, pair.before + pair.after);
    for (const Weighted& tau : unknowns.tau)
      lowest_tau = std::min(lowest_tau, tau.value);
    const double narrowest = std::sqrt(1 / (most + 1) + lowest_tau * lowest_tau);
    const double widest_step = std::clamp(narrowest / 0.8, 0.06, 0.4);
    steps_an_eta_ = static_cast<Eigen::Index>(std::ceil(unknowns.eta_step / widest_step));
    step_ = unknowns.eta_step / static_cast<double>(steps_an_eta_);
    const double last_eta =
        unknowns.first_eta + unknowns.eta_step * static_cast<double>(unknowns.etas - 1);
    double widest_spread = 0;
    for (const Weighted& spread : unknowns.spread)
      widest_spread = std::max(widest_spread, spread.value);
    const double last = unknowns.log_mean.back().value +
                        std::log(1 + 16 * widest_spread * widest_spread + 6 * widest_spread);
    low_ = std::log(0.02) - std::max(0.0, last_eta);
    points_ = static_cast<Eigen::Index>(std::ceil((last - low_) / step_)) + 1;
    tabulate_levels();
    values_ = Eigen::MatrixXd::Zero(unknowns.etas * unknowns.lucks(), unknowns.levels());
    product_ = Eigen::MatrixXd::Ones(unknowns.etas * unknowns.lucks(), unknowns.levels());
    int factors = 0;
    for (const auto& [pair, animals] : pairs) {
      if (animals > 1 && factors > 0)
        take(std::exchange(factors, 0) > 0 ? 1 : 0);
      multiply(pair);
      if (animals > 1)
        take(animals);
      else if (++factors == 4)
        take(std::exchange(factors, 0) > 0 ? 1 : 0);
    }
    take(1);
  }

  const Eigen::MatrixXd& values() const { return values_; }

private:
  double log_level(Eigen::Index l) const { return low_ + step_ * static_cast<double>(l); }

  /// The mass of each point of log m (rows) under each pair of k and mu (columns).
  void tabulate_levels() {
    levels_.resize(points_, of_.levels());
    below_.resize(of_.levels());
    Eigen::Index column = 0;
    for (const Weighted& spread : of_.spread)
      for (const Weighted& log_mean : of_.log_mean) {
        const double k = 1 / (spread.value * spread.value);
        for (Eigen::Index l = 0; l < points_; ++l) {
          const double x = log_level(l) - log_mean.value;
          levels_(l, column) =
              step_ * std::exp(k * x - k * std::exp(x) + k * std::log(k) - std::lgamma(k));
        }
        // Far on the left it falls as m^k.
        const double q = std::exp(-k * step_);
        below_(column) = levels_(0, column) * q / (1 - q);
        const double all = below_(column) + levels_.col(column).sum();
        levels_.col(column) /= all;
        below_(column) /= all;
        ++column;
      }
    most_level_ = levels_.rowwise().maxCoeff();
  }

  void multiply(const EggPair& pair) {
    const auto taus = static_cast<Eigen::Index>(of_.tau.size());
    const auto cvs = static_cast<Eigen::Index>(of_.efficacy_cv.size());
    Eigen::MatrixXd before(points_, taus);
    for (Eigen::Index t = 0; t < taus; ++t)
      for (Eigen::Index l = 0; l < points_; ++l)
        before(l, t) = std::exp(
            negative_binomial(pair.before, log_level(l),
                              1 / std::pow(of_.tau[static_cast<std::size_t>(t)].value, 2)));
    const Eigen::VectorXd weight = before.rowwise().maxCoeff().cwiseProduct(most_level_);
    const double enough = 1e-7 * weight.maxCoeff();
    Eigen::Index first = 0;
    while (weight(first) < enough && first + 1 < points_)
      ++first;
    Eigen::Index last = points_ - 1;
    while (weight(last) < enough && last > first)
      --last;
    const bool plateau = pair.before == 0 && pair.after == 0;
    if (plateau)
      first = 0;
    const Eigen::Index width = last - first + 1;
    const Eigen::Index shifted = width + steps_an_eta_ * (of_.etas - 1);
    Eigen::MatrixXd both(of_.etas * of_.lucks(), width);
    Eigen::ArrayXd after(shifted);
    for (Eigen::Index t = 0; t < taus; ++t)
      for (Eigen::Index c = 0; c < cvs; ++c) {
        const double tau_2 = std::pow(of_.tau[static_cast<std::size_t>(t)].value, 2);
        const double cv_2 = std::pow(of_.efficacy_cv[static_cast<std::size_t>(c)].value, 2);
        const double shape = 1 / (tau_2 + cv_2 + tau_2 * cv_2);
        const double constant =
            std::lgamma(pair.after + shape) - std::lgamma(shape) - std::lgamma(pair.after + 1);
        const Eigen::ArrayXd odds =
            Eigen::ArrayXd::LinSpaced(shifted, 0, static_cast<double>(shifted - 1)) * step_ +
            (log_level(first) + of_.first_eta - std::log(shape));
        after = (constant + pair.after * odds -
                 (pair.after + shape) * (odds.max(0.0) + (1 + (-odds.abs()).exp()).log()))
                    .exp();
        for (Eigen::Index j = 0; j < of_.etas; ++j)
          both.row(j * of_.lucks() + t * cvs + c) = (before.col(t).segment(first, width).array() *
                                                     after.segment(steps_an_eta_ * j, width))
                                                        .matrix()
                                                        .transpose();
      }
    likelihood_.noalias() = both * levels_.middleRows(first, width);
    if (plateau)
      likelihood_.rowwise() += below_;
    product_.array() *= likelihood_.array();
  }

  void take(double times) {
    values_.array() += times * product_.array().max(1e-300).log();
    product_.setOnes();
  }

  const Unknowns& of_;
  double step_ = 0;
  Eigen::Index steps_an_eta_ = 1;
  double low_ = 0;
  Eigen::Index points_ = 0;
  Eigen::MatrixXd levels_;
  Eigen::RowVectorXd below_;
  Eigen::VectorXd most_level_;
  Eigen::MatrixXd values_;
  Eigen::MatrixXd product_;
  Eigen::MatrixXd likelihood_;
};

/// log m' / (m' + c) ~ Beta(1/2, 1/2), per unit of log m'
double mean_prior(double log_mean, double middle_eggs) {
  const double x = log_mean - std::log(middle_eggs);
  return x / 2 - softplus(x);
}

std::vector<Weighted> means(const Range& range, std::size_t points, const MeanPrior& prior) {
  std::vector<Weighted> result;
  for (std::size_t i = 0; i < points; ++i) {
    const double x =
        range.low + range.length() * static_cast<double>(i) / static_cast<double>(points - 1);
    result.push_back({x, mean_prior(x, prior.middle_eggs)});
  }
  return result;
}

/// Where some weights' sum is not little: one point further out on each side.
Range not_little(const std::vector<Weighted>& nodes, const std::vector<double>& log_mass) {
  constexpr double little = 7;
  const double highest = *std::ranges::max_element(log_mass);
  std::size_t first = 0;
  while (log_mass[first] < highest - little)
    ++first;
  std::size_t last = nodes.size() - 1;
  while (log_mass[last] < highest - little)
    --last;
  return {nodes[first > 0 ? first - 1 : 0].value,
          nodes[std::min(last + 1, nodes.size() - 1)].value};
}

/// The joint log density: likelihood and priors, without eta's.
Eigen::MatrixXd joint_of(const std::map<EggPair, int>& pairs, const Unknowns& unknowns) {
  Eigen::MatrixXd joint = LevelsLikelihood(pairs, unknowns).values();
  Eigen::Index column = 0;
  for (const Weighted& spread : unknowns.spread)
    for (const Weighted& log_mean : unknowns.log_mean)
      joint.col(column++).array() += spread.log_weight + log_mean.log_weight;
  for (Eigen::Index j = 0; j < unknowns.etas; ++j) {
    Eigen::Index row = j * unknowns.lucks();
    for (const Weighted& tau : unknowns.tau)
      for (const Weighted& cv : unknowns.efficacy_cv)
        joint.row(row++).array() += tau.log_weight + cv.log_weight;
  }
  return joint;
}

Range around(const VaryingEfficacy::Moments& moments, const Range& prior) {
  constexpr double reach = 4.5;
  return {std::max(prior.low, moments.mean - reach * moments.sd),
          std::min(prior.high, moments.mean + reach * moments.sd)};
}

} // namespace

SpreadLevels::SpreadLevels(const VaryingPriors& priors, const MeanPrior& levels, bool fine)
    : priors_(priors), levels_(levels), fine_(fine), without_levels_(priors) {}

LogRatioDensity SpreadLevels::posterior(const Arm& arm) {
  std::map<EggPair, int> pairs;
  double eggs = 0;
  for (std::size_t i = 0; i < arm.above.size(); ++i) {
    if (arm.above[i].factor != arm.below[i].factor || arm.below[i].factor != arm.below[0].factor)
      throw CalculationError("this model takes counts of one factor alone");
    ++pairs[{static_cast<double>(arm.below[i].eggs.value()),
             static_cast<double>(arm.above[i].eggs.value())}];
    eggs += static_cast<double>(arm.below[i].eggs.value());
  }
  const LogRatioDensity without = without_levels_.posterior(arm);
  const double tau_scale = priors_.within_animals.scale;
  const Range tau = around(without_levels_.tau(), {VariationPrior::lowest * tau_scale,
                                                   VariationPrior::highest * tau_scale});
  const Range cv = around(without_levels_.efficacy_cv(), {0, priors_.highest_efficacy_cv()});
  const double spread_scale = levels_.between_animals.scale;

  // A coarse look, at the middle of eta, finds where mu and k may be.
  const double log_mean = std::log((eggs + 0.5) / static_cast<double>(arm.below.size()));
  Unknowns coarse;
  coarse.first_eta = without.quantile(0.5).value;
  coarse.eta_step = 1;
  coarse.etas = 1;
  coarse.tau = half_normal_rule<4>(tau, tau_scale);
  coarse.efficacy_cv = efficacy_rule<4>(cv, priors_);
  coarse.spread = half_normal_rule<16>({0.1, VariationPrior::highest * spread_scale}, spread_scale);
  coarse.log_mean = means({log_mean - 3, log_mean + 5}, 41, levels_);
  const Eigen::MatrixXd look = joint_of(pairs, coarse);
  const Eigen::RowVectorXd mass = (look.array() - look.maxCoeff()).exp().matrix().colwise().sum();
  std::vector<double> spread_mass(coarse.spread.size(), 0);
  std::vector<double> mean_mass(coarse.log_mean.size(), 0);
  for (std::size_t s = 0; s < coarse.spread.size(); ++s)
    for (std::size_t m = 0; m < coarse.log_mean.size(); ++m) {
      const double each = mass(static_cast<Eigen::Index>(s * coarse.log_mean.size() + m));
      spread_mass[s] += each;
      mean_mass[m] += each;
    }
  for (std::vector<double>* masses : {&spread_mass, &mean_mass})
    for (double& each : *masses)
      each = std::log(std::max(each, 1e-300));

  Unknowns unknowns;
  const double length = without.step() * static_cast<double>(without.density().size() - 1);
  unknowns.etas = fine_ ? 65 : 33;
  constexpr double further = 0.1; // levels move eta a little
  unknowns.first_eta = without.start() - further * length;
  unknowns.eta_step = (1 + 2 * further) * length / static_cast<double>(unknowns.etas - 1);
  const Range spread = not_little(coarse.spread, spread_mass);
  const Range mean = not_little(coarse.log_mean, mean_mass);
  if (fine_) {
    unknowns.tau = half_normal_rule<12>(tau, tau_scale);
    unknowns.efficacy_cv = efficacy_rule<12>(cv, priors_);
    unknowns.spread = half_normal_rule<10>(spread, spread_scale);
    unknowns.log_mean = means(mean, 16, levels_);
  } else {
    unknowns.tau = half_normal_rule<7>(tau, tau_scale);
    unknowns.efficacy_cv = efficacy_rule<7>(cv, priors_);
    unknowns.spread = half_normal_rule<6>(spread, spread_scale);
    unknowns.log_mean = means(mean, 9, levels_);
  }
  const Eigen::MatrixXd joint = joint_of(pairs, unknowns);
  const double highest = joint.maxCoeff();
  NestedLogDensity nested{unknowns.first_eta, unknowns.eta_step, {}, {}};
  for (Eigen::Index j = 0; j < unknowns.etas; ++j) {
    const double eta = unknowns.first_eta + unknowns.eta_step * static_cast<double>(j);
    const double sum =
        (joint.middleRows(j * unknowns.lucks(), unknowns.lucks()).array() - highest).exp().sum();
    nested.fine.push_back(std::log(std::max(sum, 1e-300)) + eta / 2 - softplus(eta));
  }
  for (std::size_t i = 0; i < nested.fine.size(); i += 2)
    nested.coarse.push_back(nested.fine[i]);
  return LogRatioDensity(nested);
}
