#pragma once

#include "statistics/trial_likelihood.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>

namespace eggfall {

/// What the tested groups of a region (or any stratum of a survey) said, each by its own
/// likelihood: how often each curve of the fixed set of HeardLikelihood was heard. It holds whole
/// numbers alone, so that the tallies of parts of a survey add up, in any order, to exactly the
/// tally of one run. (Borrowing between farms is often called partial pooling; a pool, here, is
/// mixed faeces.)
class RegionTally {
public:
  void add(const TrialLikelihood& group) { add(group.heard(), 1); }

  /// Adds a curve that was heard so many times, as a file tells it.
  /// @throws InputError as check(), or for 0 times.
  void add(const HeardLikelihood& heard, std::uint64_t times);

  void add(const RegionTally& other);

  std::uint64_t groups() const { return groups_; }
  const std::map<HeardLikelihood, std::uint64_t>& heard() const { return heard_; }

  bool operator==(const RegionTally&) const = default;

private:
  std::map<HeardLikelihood, std::uint64_t> heard_; ///< How often each was heard, never 0.
  std::uint64_t groups_ = 0;
};

/// Priors of a region. They are weak, but proper, so that even one group or two give an answer.
struct RegionPrior {
  /// Mean of the normal prior of m, the mean of eta: log 0.05, an efficacy of 95%.
  double middle = -2.995732273553991;
  double middle_spread = 2; ///< Standard deviation of that prior.
  double spread = 1.5;      ///< Scale of the half-normal prior of v, the spread of eta.
};

/// A median, and equal-tailed limits.
struct MedianAndLimits {
  double lower = 0;
  double median = 0;
  double upper = 0;
};

/// Of the groups that were tested: how many have a true efficacy below a threshold.
struct GroupsBelow {
  double mean = 0; ///< The expected number.
  /// The number is from `lower` to `upper` with at least the probability asked for.
  std::uint64_t lower = 0;
  std::uint64_t upper = 0;
};

/// What a region's farms are like, by a hierarchical model. eta = log(rho) of group g is drawn from
/// a population of two kinds of farms, normal each:
///
///     eta_g ~ (1 - w) N(m_1, s_1^2) + w N(m_2, s_2^2),  m_1 <= m_2,
///
/// w being the share of farms of the second kind. The five numbers with a prior are the
/// population's mean m and standard deviation v, the share r of v^2 that lies between the two
/// kinds, w, and q = log(s_2/s_1):
///
///     m_2 - m_1 = v sqrt(r/(w (1 - w))),  (1 - w) s_1^2 + w s_2^2 = v^2 (1 - r),
///     m ~ N(log 0.05, 2^2) from -8.5 to 1.5,  v ~ half-normal(1.5) from 0.1 to 5,
///     r ~ U(0, 0.95),  w ~ U(0.02, 0.98),  q ~ N(0, 0.5^2) from -1.25 to 1.25.
///
/// At r = 0 both kinds have one mean. No s is below 0.08. Two kinds are taken because a single
/// normal, or a single Student's t, counts too few failing farms where the truth has two kinds, and
/// is sure of it (docs/methods.md has figures).
///
/// eta is held between -9.2 (about log(1/10,000)) and 3.0 (about log(20)): what of the population
/// lies beyond is put in the outermost bins.
///
/// Deterministic: midpoint rules over m, log v, r, w and q on a box that closes in on the posterior
/// round by round. Each node's log likelihood is a sum over the tally's curves, in their order, so
/// that equal tallies give equal answers to the last digit.
class RegionLaw {
public:
  /// @throws CalculationError if the tally is empty.
  explicit RegionLaw(const RegionTally& tally, const RegionPrior& prior = {});

  /// Median and limits of the efficacy (a proportion) that half of the region's farms exceed.
  /// @throws InputError unless 0 < level < 1, as all members here that take a level.
  MedianAndLimits median_efficacy(double level) const;

  /// Median and limits of the mean efficacy: 1 less the mean of rho over all the region's farms.
  MedianAndLimits mean_efficacy(double level) const;

  /// Median and limits of v, the standard deviation of eta among farms. A v of 0.7 means that farms
  /// one standard deviation apart differ by a doubling of rho.
  MedianAndLimits spread(double level) const;

  /// Median and limits of the efficacy of one more farm like these, which lies between the limits
  /// with probability `level`.
  MedianAndLimits new_farm(double level) const;

  /// The probability that one more farm's efficacy is below `efficacy`, a proportion.
  double new_farm_below(double efficacy) const;

  /// How many of the tested groups have a true efficacy below `efficacy` (a proportion below 1).
  /// Given the hyperparameters, which a node holds, the number is a sum of independent chances, one
  /// a group; its law is exact up to 300 groups, and taken as normal beyond.
  /// @throws InputError unless 0 < level < 1.
  GroupsBelow groups_below(double efficacy, double level) const;

  /// Median and limits of the true efficacy of a group that is in the tally, given what all groups
  /// say: for a picture of the region. It changes nothing of what the group's own trial says.
  MedianAndLimits of_group(const TrialLikelihood& group, double level) const;

  std::size_t nodes() const; ///< How many nodes of the hyperparameters were kept; for tests.

private:
  struct State;
  std::shared_ptr<const State> state_;
};

} // namespace eggfall
