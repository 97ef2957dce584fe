#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace eggfall {

/// Bounds of those caveats for which no publication gives one; all are common practice. Bounds of
/// doses and days are in dose_check.hpp and day_check.hpp.
struct CaveatBounds {
  std::size_t fewest_animals = 5;     ///< With fewer, "few-animals" whatever the criterion asks.
  double dominant_share = 0.5;        ///< Of the eggs after treatment in one animal.
  std::uint64_t dominant_eggs = 5;    ///< Fewer eggs in all say nothing of one animal.
  std::uint64_t many_eggs_after = 10; ///< From here on a single egg more decides nothing.
  double control_change = 0.25;       ///< Fall or rise in the untreated control.
  std::size_t few_positive = 4;       ///< Animals with eggs after treatment.
  double fine_for_pools = 15;         ///< EPG per egg seen at which pools agreed with single
  double coarse_for_pools = 50;       ///< counts, and at which they misled (docs/methods.md).
  double repeats_disagree = 0.001;    ///< Below this P value, repeat counts differ too much.
  int longest_before = 14;            ///< Days from the first sample to treatment.
  int too_long_before = 21;           ///< More days than these, and the caveat is serious.
  double rise = 0.5;                  ///< A greater rise, not shared by the control, is told.
  std::uint64_t eggs_of_rise = 20;    ///< With fewer eggs after, such a rise may be luck.
  /// Mean EPG beyond which a group hardly ever goes, from memory: of sheep, goats, pigs and hosts
  /// not given; and of cattle and horses.
  double highest_mean_epg = 20'000;
  double highest_mean_epg_of_large_hosts = 5'000;
  /// Samples or treatments further apart than this are told: within a group, between a group and
  /// the control, and between treated groups.
  int days_apart = 3;
};

/// Everything a caveat may look at.
struct CaveatContext {
  const CutOffs& cut_offs;
  const Criteria& criteria; ///< The criteria of the verdict shown first.
  const ControlAnalysis* control = nullptr;
  std::size_t treated_groups = 1;
  std::optional<Design> wanted; ///< The design asked for, if one was.
  std::optional<FirstTreated> first_treated = {};
  bool units_confirmed = false; ///< AnalysisSettings::units_confirmed.
  CaveatBounds bounds = {};
};

/// The weaknesses of one group's result, the most serious first. `judgement` is complete but for
/// its standing.
std::vector<Caveat> find_caveats(const GroupEvidence& evidence, const FieldCheck& field,
                                 const Judgement& judgement, const CaveatContext& context);

/// The weaknesses of one worm's result, the most serious first. They are those of what was counted
/// of this worm alone, since all else is told for the whole group. `worm` is complete but for its
/// caveats and its standing; `of_group` is the evidence of the worms judged together.
std::vector<Caveat> find_caveats(const WormAnalysis& worm, const GroupEvidence& of_group,
                                 const CaveatContext& context);

} // namespace eggfall
