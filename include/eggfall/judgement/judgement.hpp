#pragma once

#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/group_evidence.hpp"
#include "eggfall/judgement/larger_trial.hpp"
#include "eggfall/judgement/standing.hpp"
#include "eggfall/judgement/verdict.hpp"
#include "eggfall/statistics/guarded_law.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The chances that the true efficacy lies below, between and above the thresholds of the verdict
/// shown first, by the guarded law, in which the most doubtful witness speaks. All four are
/// proportions; the last three add up to 1.
struct EfficacyProbabilities {
  double below_expected = 0;
  double below_lower = 0;
  double between = 0; ///< At or above the lower threshold, below the expected efficacy.
  double at_least_expected = 0;
};

/// The drench's own fall, the season's part of the paired fall taken out as the control tells it.
struct OwnFall {
  Verdict verdict; ///< The first verdict, as it would be if the counts had fallen by this much.
  /// The observed fall of the untreated animals that were sampled twice.
  std::optional<double> control_fall;
  std::optional<EfficacyProbabilities> probabilities;
  std::optional<GuardedLaw> law; ///< Of log(rho) without the season, by all witnesses.
};

/// The interval under another prior scale of the variation, and the class it gives.
struct PriorSensitivity {
  double scale = 1; ///< What the default scale is multiplied by.
  Interval interval;
  VerdictClass verdict_class = VerdictClass::not_applicable;
};

struct WormAnalysis;

/// What the criteria make of the evidence.
struct Judgement {
  /// By the counts alone, one for each criterion, the one asked for first.
  std::vector<Verdict> verdicts;
  /// The lower limit of the headline at the level of the first criterion, had no egg been found
  /// after treatment: the most that these counts before could have shown. Of a worm told by larvae:
  /// had none of its larvae been found, at the level of verdict_of() it; only where its own lower
  /// limit falls short.
  std::optional<double> best_lower;
  /// There in a paired design of which a control, sampled on the same days, tells the season.
  std::optional<OwnFall> own_fall;
  /// The chances for the drench's own fall where that is known, or else for the counts' fall;
  /// empty where no law stands behind the first verdict.
  std::optional<EfficacyProbabilities> probabilities;
  std::vector<PriorSensitivity> sensitivity; ///< At half and at double the scale.
  /// Simulated if the first verdict is inconclusive.
  std::vector<LargerTrialOutcome> larger_trials;
  /// Those told by larval culture first, then those by their eggs.
  std::vector<WormAnalysis> worms;
  Standing standing; ///< Decided last, when the caveats are known. Where a bar other than the
                     ///< control's decides, there are no probabilities; where any does, no larger
                     ///< trials, which would speak for the counts alone.

  /// The verdict by the criteria shown first. There must be one.
  const Verdict& first_verdict() const { return verdicts.front(); }
  Verdict& first_verdict() { return verdicts.front(); }
};

/// How a worm was told from the others.
enum class WormSource {
  larval_culture,  ///< By the larvae of the group's mixed faeces; see WormEvidence.
  eggs_told_apart, ///< By its eggs on the slide, counted in columns of their own.
};

std::string_view to_string(WormSource source);

/// One worm of a group, which goes through the same stages as the group itself.
struct WormAnalysis {
  std::string worm;
  WormSource source = WormSource::larval_culture;
  /// Of its own larvae by the group's design, or of its own eggs by theirs.
  GroupEvidence evidence;
  Judgement judgement;
  std::vector<Caveat> caveats; ///< The most serious first.
};

/// What was found of a worm on one side of its comparison, in the form in which it was told apart:
/// larvae, or eggs with their mean.
struct WormFound {
  std::optional<WormShare> larvae;   ///< In the culture: of one side, the control's below the bar.
  std::optional<std::uint64_t> eggs; ///< Eggs of this worm that were seen.
  std::optional<double> mean_epg;
};

/// On the side that the treated samples are compared with: before treatment, or in the control
/// (where_compared()); and after treatment.
WormFound found_before(const WormAnalysis& worm);
WormFound found_after(const WormAnalysis& worm);

/// The design of the worm's evidence; paired if nothing could be compared.
Design design_of(const WormAnalysis& worm);

/// The first verdict with a class, since not every criterion has a rule for each group or worm, or
/// finds the interval that it demands; if none has a class, the first of all. `verdicts` must not
/// be empty.
const Verdict& first_given(const std::vector<Verdict>& verdicts);

/// The first_given() verdict on the worm: some criteria demand an interval that larvae cannot give.
const Verdict& verdict_of(const WormAnalysis& worm);

/// Whether the worm stands as resistant, strongly or not.
bool survives(const WormAnalysis& worm);

/// Whether it may survive, for all that the trial shows: it is not called susceptible, though it
/// was found after treatment and its fall is below what is expected, or cannot be worked out.
bool may_survive(const WormAnalysis& worm);

} // namespace eggfall
