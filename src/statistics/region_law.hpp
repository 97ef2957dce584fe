#pragma once

#include "statistics/trial_likelihood.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>

namespace eggfall {

/// What the tested groups of a region (or any stratum of a survey) said, each by its own
/// likelihood: how often each of the fixed set of curves was heard. Whole numbers alone, so that
/// the tallies of shards add up to that of one run, in any order, to the same bytes. (Borrowing
/// between farms is often called partial pooling; a pool, here, is mixed faeces.)
class RegionTally {
public:
  void add(const TrialLikelihood& group) { add(group.heard(), 1); }

  /// As it stands in a file. @throws InputError as check(), or for 0 times.
  void add(const HeardLikelihood& heard, std::uint64_t times);

  void add(const RegionTally& other);

  std::uint64_t groups() const { return groups_; }
  const std::map<HeardLikelihood, std::uint64_t>& heard() const { return heard_; }

  bool operator==(const RegionTally&) const = default;

private:
  std::map<HeardLikelihood, std::uint64_t> heard_; ///< No count is 0.
  std::uint64_t groups_ = 0;
};

/// Priors of a region: weak, and proper, so that one group or two have an answer.
struct RegionPrior {
  double middle = -2.995732273553991; ///< Of the mean of eta: log 0.05, an efficacy of 95%, ...
  double middle_spread = 2;           ///< ... normal, with this standard deviation.
  double spread = 1.5;                ///< Scale of the half-normal prior of the spread of eta.
};

/// A median, and equal-tailed limits.
struct MedianAndLimits {
  double lower = 0;
  double median = 0;
  double upper = 0;
};

/// Of the groups that were tested: how many have a true efficacy below a threshold.
struct GroupsBelow {
  double mean = 0; ///< Of the number.
  /// The number is within these with at least the probability asked for.
  std::uint64_t lower = 0;
  std::uint64_t upper = 0;
};

/// What a region's farms are like, by a hierarchical model. eta = log(rho) of group g is drawn from
/// a population of two kinds of farms, normal each:
///
///     eta_g ~ (1 - w) N(m_1, s_1^2) + w N(m_2, s_2^2),  m_1 <= m_2,
///
/// by its mean and standard deviation m and v, the share r of v^2 that lies between the two kinds,
/// w, and q = log(s_2/s_1):
///
///     m_2 - m_1 = v sqrt(r/(w (1 - w))),  (1 - w) s_1^2 + w s_2^2 = v^2 (1 - r),
///     m ~ N(log 0.05, 2^2),  v ~ half-normal(1.5) from 0.1 to 5,
///     r ~ U(0, 0.95),  w ~ U(0.02, 0.98),  q ~ N(0, 0.5^2) from -1.25 to 1.25.
///
/// At r = 0 it is one kind of farm. No s is below 0.08. Where the truth has two kinds one normal,
/// or one Student's t, counts too few that fail, and is sure of it (docs/methods.md has figures).
///
/// eta is held from log(1/10,000) to log(20): what lies beyond is put there.
///
/// Deterministic: midpoint rules over m, v, r, w and q on a box that closes in on the posterior
/// round by round. Each node's log likelihood is a sum over the tally's curves, in their order, so
/// that equal tallies give equal answers.
class RegionLaw {
public:
  /// @throws CalculationError if the tally is empty.
  explicit RegionLaw(const RegionTally& tally, const RegionPrior& prior = {});

  /// The efficacy that half of the region's farms exceed; of the means of rho of all its farms, one
  /// less that.
  MedianAndLimits median_efficacy(double level) const;
  MedianAndLimits mean_efficacy(double level) const;

  /// v, the standard deviation of eta among farms: a spread of 0.7 is a doubling of rho.
  MedianAndLimits spread(double level) const;

  /// The efficacy of one more farm like these: with probability `level` it lies within.
  MedianAndLimits new_farm(double level) const;

  /// The probability that one more farm's efficacy is below this.
  double new_farm_below(double efficacy) const;

  /// How many of the tested groups have a true efficacy below this (a proportion below 1). At each
  /// node the number is a sum of independent chances: exact up to 300 groups, and normal beyond.
  /// @throws InputError unless 0 < level < 1.
  GroupsBelow groups_below(double efficacy, double level) const;

  /// The true efficacy of a group that is in the tally, given all of them: for a picture of the
  /// region. It changes nothing of what the group's own trial says.
  MedianAndLimits of_group(const TrialLikelihood& group, double level) const;

  std::size_t nodes() const; ///< Of the hyperparameters that were kept, for tests.

private:
  struct State;
  std::shared_ptr<const State> state_;
};

} // namespace eggfall
