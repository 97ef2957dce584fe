#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/guarded_law.hpp"
#include "eggfall/statistics/log_ratio_density.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/statistics/worm_evidence.hpp"
#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>

// What a control group says of the season, and what is left of a fall without that.
namespace eggfall {

/// The season that a group shares with a control, beside the control's own observed fall.
struct ToldSeason {
  LogRatioDensity law;
  std::optional<double> control_fall;
};

/// The season that a control group's animals tell which were sampled twice; nothing without a
/// control, or if none of these animals had an egg before.
std::optional<ToldSeason> season_told_by(const Group* control, const PosteriorPriors& priors);

/// Whether a control tells of the season, and was sampled on the group's own days, give or take
/// FieldPractice::control_days_apart: only then was its season the group's. Dates that are not
/// given are taken for the same. `control` may be nullptr.
bool shares_season(const ControlAnalysis* control, const FieldCheck& field);

/// The control's season, if it is shared.
std::optional<ToldSeason> shared_season(const ControlAnalysis* control, const FieldCheck& field);

/// The season of one worm, by its larvae in the control's cultures. It is that of all worms where
/// the control was not cultured on both days, or where no larva of the worm was found on the first.
/// `control` may be nullptr.
std::optional<ToldSeason> season_of_worm(const std::optional<ToldSeason>& of_all,
                                         const Group* control, const std::string& worm);

/// Where the true efficacy lies against a verdict's thresholds; nothing unless the verdict rests on
/// the guarded law.
std::optional<EfficacyProbabilities> probabilities_of(const Verdict& verdict,
                                                      const OrReason<GuardedLaw>& law);

/// The verdict on the drench's own fall. It is nothing if the design is not the paired one, or if
/// there is no season, no law, or no verdict by the law.
std::optional<OwnFall> own_fall(const Criteria& criteria, const Group& group,
                                const Evidence& evidence, const std::optional<ToldSeason>& season);
std::optional<OwnFall> own_fall(const Criteria& criteria, const Group& group,
                                const WormEvidence& larvae,
                                const std::optional<ToldSeason>& season);

} // namespace eggfall
