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

/// Where the true efficacy lies by the guarded law, against the thresholds of the verdict shown
/// first: of all witnesses the most doubtful speaks (GuardedLaw). The four are proportions; the
/// last three add up to 1.
struct EfficacyProbabilities {
  double below_expected = 0;
  double below_lower = 0;
  double between = 0; ///< At or above the lower threshold, below the expected efficacy.
  double at_least_expected = 0;
};

/// The drench's own fall, the season's part of the paired fall taken out as the control tells it.
struct OwnFall {
  Verdict verdict;                    ///< The first verdict, had the counts fallen by this.
  std::optional<double> control_fall; ///< Of the untreated animals sampled twice, observed.
  std::optional<EfficacyProbabilities> probabilities;
  std::optional<GuardedLaw> law; ///< Of log(rho) without the season, by all witnesses.
};

/// The interval under another prior scale of the variation, and the class it gives.
struct PriorSensitivity {
  double scale = 1; ///< Times the default.
  Interval interval;
  VerdictClass verdict_class = VerdictClass::not_applicable;
};

struct WormAnalysis;

/// What the criteria make of the evidence.
struct Judgement {
  std::vector<Verdict> verdicts; ///< By the counts alone; the one asked for first.
  /// The lower limit of the headline at the level of the first criterion, had no egg been found
  /// after treatment: the most that these counts before could have shown. Of a worm told by larvae:
  /// had none of its larvae been found, at the level of verdict_of() it; only where its own lower
  /// limit falls short.
  std::optional<double> best_lower;
  /// Where a control on these days tells of the season, in a paired design.
  std::optional<OwnFall> own_fall;
  /// Of the drench's own fall where that is known, and else of the counts'; empty without a law
  /// behind the first verdict.
  std::optional<EfficacyProbabilities> probabilities;
  std::vector<PriorSensitivity> sensitivity;     ///< At half and double the scale.
  std::vector<LargerTrialOutcome> larger_trials; ///< If the first verdict is inconclusive.
  std::vector<WormAnalysis> worms;               ///< By larval culture, then by eggs told apart.
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
  GroupEvidence
      evidence; ///< Of its own larvae by the group's design, or of its own eggs by theirs.
  Judgement judgement;
  std::vector<Caveat> caveats; ///< The most serious first.
};

/// What was found of a worm on one side of its comparison, by the way it was told.
struct WormFound {
  std::optional<WormShare> larvae;   ///< In the culture: of one side, the control's below the bar.
  std::optional<std::uint64_t> eggs; ///< Of eggs told apart.
  std::optional<double> mean_epg;
};

/// Where its group is compared: before treatment, or in the control (where_compared()).
WormFound found_before(const WormAnalysis& worm);
WormFound found_after(const WormAnalysis& worm);

/// The design of its evidence; paired if nothing could be compared.
Design design_of(const WormAnalysis& worm);

/// The first that is one: not every criterion has a rule for a group or a worm, or finds what it
/// demands. The first of all, if none is. There must be one.
const Verdict& first_given(const std::vector<Verdict>& verdicts);

/// The first_given() verdict on the worm: some criteria demand an interval that larvae cannot give.
const Verdict& verdict_of(const WormAnalysis& worm);

/// Whether the worm stands as resistant, strongly or not.
bool survives(const WormAnalysis& worm);

/// Whether it may survive, for all that the trial shows: it is not called susceptible, though it
/// was found after treatment and its fall is below what is expected, or cannot be worked out.
bool may_survive(const WormAnalysis& worm);

} // namespace eggfall
