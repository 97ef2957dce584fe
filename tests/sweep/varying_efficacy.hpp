#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/variation_prior.hpp"

#include <Eigen/Core>

#include <cstddef>
#include <map>
#include <tuple>
#include <vector>

/// How the prior of c, the variation of efficacy between animals, falls.
enum class EfficacyTail {
  half_normal, ///< Cut to 0 <= c <= 1.7 times its scale.
  half_cauchy, ///< Mostly near 0, and yet not surprised by much; cut to 0 <= c <= 3.
};

/// What one model would take as given of animals that respond differently.
struct VaryingPriors {
  eggfall::VariationPrior within_animals{1.2}; ///< tau, as the paired posterior's.
  double efficacy_scale = 1;
  EfficacyTail tail = EfficacyTail::half_normal;

  double log_prior(double efficacy_cv) const;
  double highest_efficacy_cv() const;
};

/// How fine the rules of tau and c are, and how far the eggs' sums reach.
struct VaryingRules {
  std::size_t tau_nodes = 12; ///< 7, 12, 16 or 24
  std::size_t efficacy_nodes = 12;
  std::size_t fewest_points = 33; ///< Of eta; up to twice as many.
};

/// Posterior of eta = log(rho) of animals sampled twice, whose efficacy varies. As in
/// eggfall::paired_posterior(), but for a ratio r_i of the animal's own:
///
///     a_i ~ Poisson(m_i u_i / f_before),  b_i ~ Poisson(m_i rho r_i v_i / f_after),
///     u_i, v_i ~ Gamma of mean 1 and coefficient of variation tau, r_i the same with c.
///
/// r_i v_i is taken for a gamma variable of its two moments: of mean 1 and coefficient of variation
/// sigma, sigma^2 = tau^2 + c^2 + tau^2 c^2. With the prior 1/m_i the level drops out:
///
///     b_i | n_i = a_i + b_i ~ Binomial(n_i, p_i),  logit p_i = eta + log(f_before/f_after) + z_i,
///     z_i = log(alpha/beta) + logit s_i,  s_i ~ Beta(beta, alpha),
///     alpha = 1/tau^2, beta = 1/sigma^2.
///
/// Priors: eta and tau as there, c as given.
///
/// By the trapezoid rule in z, at steps that are powers of 2, so that the tables of the density of
/// z serve every group: they are made on first use. tau and c by Gauss rules.
class VaryingEfficacy {
public:
  explicit VaryingEfficacy(const VaryingPriors& priors, const VaryingRules& rules = {});

  /// @throws eggfall::InputError if no animal has an egg before treatment.
  eggfall::LogRatioDensity posterior(const eggfall::Arm& arm);

  /// The posterior means of tau and of c, and their standard deviations, in the last group that
  /// posterior() was asked for.
  struct Moments {
    double mean = 0;
    double sd = 0;
  };
  Moments tau() const { return tau_; }
  Moments efficacy_cv() const { return efficacy_cv_; }

private:
  struct Node {
    double tau = 0;
    double efficacy_cv = 0;
    double alpha = 0;
    double beta = 0;
    double log_weight = 0; ///< With its priors.
    int level = 0;         ///< The step 2^-level resolves the density of z.
  };

  /// Densities of z of some nodes (rows), times the step, at k step - offset, k = first, ...
  struct Table {
    Eigen::Index first = 0;
    Eigen::MatrixXd density;
    Eigen::MatrixXd
        below; ///< The sum of the columns before each, and of what is left of the first.
  };

  /// Nodes of one level, which stand side by side.
  struct Band {
    std::size_t first = 0;
    std::size_t nodes = 0;
    int level = 0;
  };

  /// Tables of a rule, kept from group to group.
  class Rule {
  public:
    Rule(std::vector<Node> nodes);

    const std::vector<Node>& nodes() const { return nodes_; }
    const std::vector<Band>& bands() const { return bands_; }
    const Table& table(std::size_t band, int level, int offset);

  private:
    std::vector<Node> nodes_;
    std::vector<Band> bands_;
    std::map<std::tuple<std::size_t, int, int>, Table> tables_;
  };

  /// eta = (first + i) 2^-level
  struct Grid {
    int level = 0;
    Eigen::Index first = 0;
    Eigen::Index points = 0;

    double step() const;
    double eta(Eigen::Index i) const;
  };

  struct Pair;
  struct Group;

  static std::vector<Node> nodes(const VaryingPriors& priors, std::size_t tau_nodes,
                                 std::size_t efficacy_nodes);
  static Eigen::MatrixXd log_joint(Rule& rule, const Group& group, const Grid& grid);
  static void multiply(Rule& rule, const Pair& pair, const Grid& grid, Eigen::MatrixXd& product);
  static std::vector<double> marginal(const Eigen::MatrixXd& log_joint);
  Grid located(const Group& group);
  void note_moments(const Eigen::MatrixXd& log_joint);

  VaryingRules rules_;
  Rule pilot_;
  Rule fine_;
  Moments tau_;
  Moments efficacy_cv_;
};
