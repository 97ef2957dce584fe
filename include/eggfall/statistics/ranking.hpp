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
  /// 1 less the sum of all chances of being best, which falls short of 1 where the witnesses do not
  /// agree on the best group; 0 without groups.
  double cannot_tell = 0;
  /// Whether two groups or more are compared with one control, so that their laws are not
  /// independent. The control's noise is then counted in each: with independent normal log means of
  /// variances v_A, v_B and v_C (the control), the log of rho_A/rho_B truly has the variance v_A +
  /// v_B, since C cancels, but is given v_A + v_B + 2 v_C. So pairs are called different less often
  /// than they could be.
  bool shared_control = false;
  bool designs_differ = false; ///< Whether the designs of `groups` differ.
  bool animals_differ = false; ///< Whether the hosts or the worms of `groups` differ.
};

/// Ranks the groups that have a law, as if the laws were independent. With f_A and F_A the density
/// and distribution function of eta = log(rho) of group A by one witness,
///
///     P(A best) = integral f_A prod_{B != A} (1 - F_B) d eta,
///
/// P(A close to the best) has log(rho_A - 0.02) (close_efficacies) in place of eta in F_B. Of each,
/// the least over the witnesses is given. A pair's ratio is the difference() of the two guarded
/// laws. All is by deterministic quadrature. With fewer than two laws, or more than
/// most_ranked_groups, every group is left out, with the reason.
/// @throws InputError unless 0 < level < 1.
Ranking rank_drenches(const std::vector<DrenchLaw>& drenches, double level);

} // namespace eggfall
