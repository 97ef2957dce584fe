#include "eggfall/judgement/larger_trial.hpp"

#include "base/softplus.hpp"
#include "eggfall/base/random_stream.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/paired_posterior.hpp"
#include "statistics/random_draws.hpp"

#include <boost/random/uniform_01.hpp>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// The count that the same sample would give over `volume` times as much of it: the eggs already
/// seen, and those drawn for the rest, of which `level` are expected in as much as was counted.
Count counted_on(const Count& count, double level, double volume, RandomStream& stream) {
  const EggsSeen more = poisson_draw((volume - 1) * level, stream);
  return {
      EggsSeen(std::min(count.eggs.value() + more.value(), EggsSeen::largest)),
      MultiplicationFactor(std::max(count.factor.value() / volume, MultiplicationFactor::smallest)),
      count.animals};
}

/// The eggs expected to be seen in one animal before and after treatment, at its present factors.
struct PairLevels {
  double before = 0;
  double after = 0;
};

/// Draws z of the paired model (paired_posterior.hpp) given an animal's counts, `after` of `total`
/// eggs seen, and offset = eta + log(f_before/f_after). The density of z times the binomial
/// likelihood is taken on a grid that is narrowed to where this product lies, and drawn from by the
/// inverse of its distribution function.
double draw_z(double after, double total, double offset, double tau, RandomStream& stream) {
  const double kappa = 1 / (tau * tau);
  const auto log_density = [&](double z) {
    return after * (offset + z) - total * softplus(offset + z) + kappa * (z - 2 * softplus(z));
  };
  constexpr int bins = 100;
  constexpr int rounds = 6;
  constexpr double negligible = 18;
  double low = -60;
  double high = 60;
  std::vector<double> values(bins + 1);
  for (int round = 0; round < rounds; ++round) {
    const double step = (high - low) / bins;
    for (int i = 0; i <= bins; ++i)
      values[static_cast<std::size_t>(i)] = log_density(low + step * i);
    const double highest = *std::ranges::max_element(values);
    const auto counts = [&](double value) { return value > highest - negligible; };
    const auto first = std::ranges::find_if(values, counts) - values.begin();
    const auto last = values.rend() - std::find_if(values.rbegin(), values.rend(), counts) - 1;
    if (last - first > bins / 2)
      break;
    const double start = low;
    low = start + step * static_cast<double>(std::max<std::ptrdiff_t>(first - 1, 0));
    high = start + step * static_cast<double>(std::min<std::ptrdiff_t>(last + 1, bins));
  }
  const double step = (high - low) / bins;
  for (int i = 0; i <= bins; ++i)
    values[static_cast<std::size_t>(i)] = log_density(low + step * i);
  const double highest = *std::ranges::max_element(values);
  double sum = 0;
  for (double& value : values)
    value = sum += std::exp(value - highest);
  const double position = boost::random::uniform_01<double>()(stream) * sum;
  const auto index = static_cast<int>(std::ranges::upper_bound(values, position) - values.begin());
  const double jitter = boost::random::uniform_01<double>()(stream) - 0.5;
  return low + step * (std::min(index, bins) + jitter);
}

/// An arm as the larger trial might have found it, of animals that were sampled twice; the counts
/// after treatment stand above the bar.
Arm continued_pairs(const Arm& arm, const PairedState& state, const TrialExtension& extension,
                    RandomStream& stream) {
  const double kappa = 1 / (state.tau * state.tau);
  const auto levels = [&](double total_level, double z, double shift) {
    const double p = 1 / (1 + std::exp(-(state.log_ratio + shift + z)));
    return PairLevels{total_level * (1 - p), total_level * p};
  };
  Arm result;
  std::vector<double> total_levels;
  std::vector<double> shifts;
  for (std::size_t i = 0; i < arm.above.size(); ++i) {
    const double after = arm.above[i].eggs.value();
    const double total = after + arm.below[i].eggs.value();
    const double shift = std::log(arm.below[i].factor.value() / arm.above[i].factor.value());
    // Under the prior 1/m the animal's total level given its total count is gamma distributed.
    total_levels.push_back(total > 0 ? gamma_draw(total, stream) : 0);
    shifts.push_back(shift);
    const PairLevels own =
        levels(total_levels.back(),
               draw_z(after, total, state.log_ratio + shift, state.tau, stream), shift);
    result.above.push_back(counted_on(arm.above[i], own.after, extension.volume, stream));
    result.below.push_back(counted_on(arm.below[i], own.before, extension.volume, stream));
  }
  for (std::size_t i = 0; i < extension.more_animals; ++i) {
    const std::size_t like = stream.below(static_cast<std::uint32_t>(arm.above.size()));
    const double v = gamma_draw(kappa, stream);
    const double u = gamma_draw(kappa, stream);
    const double z = std::log(std::max(v, 1e-300)) - std::log(std::max(u, 1e-300));
    const PairLevels own = levels(total_levels[like], z, shifts[like]);
    const Count& above = arm.above[like];
    const Count& below = arm.below[like];
    result.above.push_back({poisson_draw(own.after, stream), above.factor, above.animals});
    result.below.push_back({poisson_draw(own.before, stream), below.factor, below.animals});
  }
  return result;
}

/// Counts as the larger trial might have found them, of animals that were sampled once.
std::vector<Count> continued_counts(const std::vector<Count>& counts, const MeanState& state,
                                    const TrialExtension& extension, RandomStream& stream) {
  std::vector<Count> result;
  for (const Count& count : counts) {
    const double mean = state.mean_epg / count.factor.value();
    const double level = gamma_draw(state.k + count.eggs.value(), stream) * mean / (mean + state.k);
    result.push_back(counted_on(count, level, extension.volume, stream));
  }
  for (std::size_t i = 0; i < extension.more_animals; ++i) {
    const Count& like = counts[i % counts.size()];
    const double level =
        gamma_draw(state.k, stream) * state.mean_epg / like.factor.value() / state.k;
    result.push_back({poisson_draw(level, stream), like.factor, like.animals});
  }
  return result;
}

/// `size` draws of the unknowns of a comparison from their posterior, each of which gives one
/// course that a larger trial might take.
class Unknowns {
public:
  Unknowns(const Comparison& comparison, const PosteriorPriors& priors, std::size_t size,
           RandomStream& stream)
      : comparison_(comparison) {
    const Arm& treated = comparison.arms.front();
    const Arm& last = comparison.arms.back();
    if (paired())
      pairs_.push_back(draw_paired(treated, priors.within_animals, size, stream));
    if (comparison.design == Design::controlled)
      pairs_.push_back(draw_paired(turned(last), priors.within_animals, size, stream));
    if (!paired())
      means_ = draw_two_means(treated.above, last.below, priors.mean, size, stream);
  }

  Comparison continued(std::size_t i, const TrialExtension& extension, RandomStream& stream) const {
    Comparison result;
    result.design = comparison_.design;
    const Arm& treated = comparison_.arms.front();
    const Arm& last = comparison_.arms.back();
    if (paired())
      result.arms.push_back(continued_pairs(treated, pairs_[0][i], extension, stream));
    if (comparison_.design == Design::controlled)
      result.arms.push_back(turned(continued_pairs(turned(last), pairs_[1][i], extension, stream)));
    if (!paired()) {
      result.arms.push_back(
          {continued_counts(treated.above, means_[i].above, extension, stream), {}});
      result.arms.push_back({{}, continued_counts(last.below, means_[i].below, extension, stream)});
    }
    return result;
  }

private:
  bool paired() const { return pairs_animals(comparison_.design); }
  /// The arm with its sides exchanged: a control arm has its counts before treatment above the bar,
  /// where draw_paired() expects those after.
  static Arm turned(const Arm& arm) { return {arm.below, arm.above}; }

  const Comparison& comparison_;
  std::vector<std::vector<PairedState>> pairs_; ///< Of each paired arm.
  std::vector<TwoMeansState> means_;            ///< Of two arms sampled once.
};

} // namespace

std::vector<TrialExtension> usual_extensions() {
  return {{2, 0}, {4, 0}, {1, 5}, {1, 10}, {1, 20}};
}

std::vector<LargerTrialOutcome> larger_trials(const Comparison& comparison,
                                              const PosteriorPriors& priors, double level,
                                              double lower_threshold, double expected,
                                              const std::vector<TrialExtension>& extensions,
                                              const LargerTrialSettings& settings) {
  check_level(level);
  // A trial with larger counts than this does not lack eggs, and larger samples would not help it.
  constexpr std::uint32_t largest_count = 5'000;
  for (const Arm& arm : comparison.arms)
    for (const std::vector<Count>* counts : {&arm.above, &arm.below})
      for (const Count& count : *counts)
        if (count.eggs.value() > largest_count)
          return {};
  if (settings.simulations == 0 || !posterior(comparison, priors))
    return {};
  // The streams are keyed by seed and replicate alone, so that names change no result.
  const std::uint64_t streams = stream_group("larger trials", "");
  RandomStream unknowns_stream({settings.seed, streams, 0});
  const Unknowns unknowns(comparison, priors, settings.simulations, unknowns_stream);

  std::vector<LargerTrialOutcome> outcomes;
  for (std::size_t t = 0; t < extensions.size(); ++t) {
    LargerTrialOutcome outcome{extensions[t], settings.simulations, 0, 0, 0, 0};
    const double share = 1.0 / static_cast<double>(settings.simulations);
    for (std::size_t s = 0; s < settings.simulations; ++s) {
      RandomStream stream(
          {settings.seed, streams, static_cast<std::uint32_t>(1 + t * settings.simulations + s)});
      const Comparison next = unknowns.continued(s, extensions[t], stream);
      const Interval interval = Evidence(next, priors).headline(level);
      if (!interval.usable())
        continue; // no egg to compare with: not clear
      switch (two_one_sided(*interval.lower, *interval.upper, lower_threshold, expected)) {
      case VerdictClass::susceptible:
        outcome.susceptible += share;
        break;
      case VerdictClass::low_resistant:
        outcome.low_resistant += share;
        break;
      case VerdictClass::resistant:
        outcome.resistant += share;
        break;
      default:
        break;
      }
    }
    outcome.clear = outcome.susceptible + outcome.low_resistant + outcome.resistant;
    outcomes.push_back(outcome);
  }
  return outcomes;
}

} // namespace eggfall
