#pragma once

#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/count_spread.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// The counts of one set of animals, or pools of animals, on one occasion.
struct SampleSummary {
  std::size_t animals = 0; ///< Animals, or pools of them, that were sampled.
  std::size_t animals_without_eggs = 0;
  std::uint64_t animals_mixed = 0; ///< Animals in all samples: more than `animals` if pooled.
  std::size_t pools = 0;           ///< Samples of more than one animal.
  std::uint32_t largest = 0;       ///< Animals in the largest of the samples.
  std::uint64_t eggs = 0;          ///< Eggs seen in all animals together.
  std::optional<double> mean_epg;  ///< Arithmetic mean over animals; empty without any.
  std::optional<MultiplicationFactor> factor; ///< The factor, if all counts share one.
  CountSpread spread;                         ///< Of eggs seen; only if all share one factor.
};

/// Whether a sample is of more than one animal.
inline bool is_pooled(const SampleSummary& sample) {
  return sample.pools > 0;
}

SampleSummary summarise(const std::vector<Count>& counts);

/// One line of the per-animal table.
struct AnimalResult {
  std::string animal;
  std::optional<Count> before;
  std::optional<Count> after;
  std::optional<double> reduction; ///< 1 - after/before in EPG; empty if before is 0 or missing.
};

/// One for each of the group's animals, in its order.
std::vector<AnimalResult> animal_results(const Group& group);

/// The reduction by one design, with every interval it allows.
struct DesignEstimate {
  Design design = Design::paired;
  std::optional<double> reduction;
  Interval headline;
  std::vector<Interval> intervals;
};

/// Where the methods differ about one reduction, and why (docs/methods.md).
struct MethodDisagreement {
  /// The BCa bootstrap reaches beyond the posterior's limits, on one side or both: animals fell
  /// differently.
  bool bootstrap_reaches_further = false;
  /// Eggs were seen after treatment, and yet the fall lies outside of the posterior's own interval:
  /// the animals fell too differently for one efficacy.
  bool fall_outside_posterior = false;
  std::vector<Method> much_narrower; ///< Less than 0.67 times as wide as the posterior's interval.
};

/// The limits of the guarded law at one level, as falls.
struct GuardedPart {
  double level = 0;
  double lower = 0;
  double upper = 0;
};

/// The limits at 50, 80, 90, 95 and 99%.
std::vector<GuardedPart> guarded_parts(const GuardedLaw& law);

/// What the counts of a group, or of one worm in it, say about the drench, before any rule makes
/// something of it. A worm told by larvae has no animals of its own: `group` then holds the
/// cultures and what its thresholds hang on, and samples, other designs and animals are empty.
struct GroupEvidence {
  /// The group as it was read (its host may have come from an option); for a worm told apart on
  /// the slide, the group that of_kind() makes of it.
  Group group;
  std::optional<Design> design;         ///< Empty: nothing could be compared.
  std::size_t animals = 0;              ///< Treated animals in the comparison.
  SampleSummary before;                 ///< Treated animals: those compared if the design pairs
  SampleSummary after;                  ///< them, or else all that were sampled.
  std::optional<SampleSummary> control; ///< The control counts compared with, unless paired.
  std::optional<double> reduction;
  Interval headline;
  std::vector<Interval> intervals;
  MethodDisagreement disagreement; ///< Among `intervals`.
  /// Of log(rho), efficacy = 1 - rho, by all witnesses.
  OrReason<GuardedLaw> law = WhyNot{"nothing could be compared"};
  std::vector<DroppedAnimal> dropped;
  std::vector<DesignEstimate> other_designs;
  std::vector<AnimalResult> animal_results;
  std::optional<WormShares> larvae; ///< Of a worm told by larval culture alone.
};

/// The counts that those after treatment are compared with: the control's where the design takes
/// them, or else those before treatment.
/// @throws CalculationError for a worm told by larvae, which has no counts of its own.
const SampleSummary& compared_with(const GroupEvidence& evidence);

} // namespace eggfall
