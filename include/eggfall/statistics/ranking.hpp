#pragma once

#include "eggfall/statistics/drench_law.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {

/// Two efficacies closer than this, as proportions, are as good as equal on a farm (practice).
inline constexpr double close_efficacies = 0.02;

/// More treated groups of one trial than this are not ranked: they are then farms or mobs rather
/// than drenches, and the pairs grow with their square.
inline constexpr std::size_t most_ranked_groups = 20;

struct RankedGroup {
  std::string group;
  Design design = Design::paired;
  Quadrature best;          ///< P(its rho is the lowest of all), the least by any witness.
  Quadrature close_to_best; ///< P(its rho is within close_efficacies of the lowest), likewise.
};

/// Two groups, in the order of Ranking::groups.
struct RankedPair {
  std::string first;
  std::string second;
  Quadrature first_better; ///< P(rho of the first < rho of the second), by the guarded law.
  RatioLimits eggs_left;   ///< Of rho_first / rho_second, at Ranking::level, by the guarded law.

  /// Whether the interval of the ratio leaves 1 out.
  bool separated() const { return eggs_left.upper < 1 || eggs_left.lower > 1; }
};

struct NotRanked {
  std::string group;
  std::string reason;
};

/// How likely each drench is the best of its trial, on this farm and against its worms now.
struct Ranking {
  double level = 0.90;             ///< Confidence level of the intervals of pairs.
  std::vector<RankedGroup> groups; ///< The likeliest best first; none, or two and more.
  std::vector<RankedPair> pairs;   ///< Each pair once.
  std::vector<NotRanked> left_out;
  /// What the chances of being best leave of 1, the witnesses not agreeing; 0 without groups.
  double cannot_tell = 0;
  /// Two groups or more are compared with one control, so that their laws are not
  /// independent. Its noise is then counted in each: with independent normal log means of
  /// variances v_A, v_B and v_C (the control) the log of rho_A/rho_B has the variance v_A + v_B,
  /// since C cancels, and is given v_A + v_B + 2 v_C. Pairs are so called different more rarely
  /// than they could be.
  bool shared_control = false;
  bool designs_differ = false; ///< Whether the designs of `groups` differ.
  bool animals_differ = false; ///< Whether the hosts or the worms of `groups` differ.
};

/// Ranks the groups that have a law, as if the laws were independent. With f and F the density and
/// distribution function of eta = log(rho) by one witness,
///
///     P(A best) = integral f_A prod_{B != A} (1 - F_B) d eta,
///
/// and P(A close to the best) the same with rho_A - 0.02 in F_B; what is given is the least over
/// the witnesses. The ratio of a pair by difference() of the laws. All by deterministic quadrature.
/// Fewer than two laws, or more than most_ranked_groups, leave every group out.
/// @throws InputError unless 0 < level < 1.
Ranking rank_drenches(const std::vector<DrenchLaw>& drenches, double level);

} // namespace eggfall
