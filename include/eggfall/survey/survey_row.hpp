#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/standing.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/posterior.hpp"
#include "eggfall/trial/trial.hpp"

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// How a survey judges each group.
struct SurveySettings {
  Criteria criteria;                   ///< The one criterion of all verdicts.
  std::vector<SamplingWindow> windows; ///< Days to the second sample, as in CutOffs.
  bool units_confirmed = false;        ///< AnalysisSettings::units_confirmed.
  PosteriorPriors priors;

  bool operator==(const SurveySettings&) const = default;
};

/// When a group was tested and what was counted: what is set beside other years of its farm, and
/// beside other farms.
struct DatedCounts {
  std::optional<int> year;                  ///< Of the trial: given, or that of its dates.
  std::optional<std::chrono::sys_days> day; ///< Of its first treatment, or else first sample.
  /// What is compared by the design shown first; empty if nothing is.
  std::optional<Comparison> counts;
};

/// What a survey keeps of one treated group.
struct SurveyRow {
  std::uint64_t trial_number = 0; ///< Of the trial, among all of the tables, from 1.
  std::string trial;
  Group group;                  ///< Without its animals.
  std::optional<Design> design; ///< Empty: nothing could be compared.
  std::size_t animals = 0;      ///< Treated animals in the comparison.
  /// Sum over treated_counts(); empty if no animal was sampled.
  std::optional<std::uint64_t> eggs_before;
  std::optional<std::uint64_t> eggs_after;
  std::optional<double> mean_epg_before; ///< Arithmetic mean over animals.
  std::optional<double> mean_epg_after;
  std::optional<double> reduction;  ///< A proportion, as are the limits.
  std::optional<Interval> interval; ///< interval_for() the criterion.
  Standing standing; ///< Of Standing::care only what worms told apart give: caveats are not sought.
  /// kinds_told_apart(), whose eggs are in none of the numbers here; one that survives is in the
  /// standing.
  std::vector<std::string> kinds;
  DatedCounts dated;
  std::string reason; ///< Why the criterion does not apply; empty if it does.
};

/// Whether the counts' fall is the drench's own, so that it may be set beside those of other years
/// or other farms: there are counts, and no bar says otherwise, as one of units, day, control,
/// missing animals or dose does. Few animals or eggs make a fall uncertain, not another.
bool is_drenchs_own_fall(const SurveyRow& row);

/// The rows of a trial's treated groups, in order, each by the very steps of analyse(): the same
/// design, evidence, verdict and bars, of the worms too. A group whose calculation fails has no
/// class, and the reason.
std::vector<SurveyRow> survey_rows(const Trial& trial, std::uint64_t trial_number,
                                   const SurveySettings& settings);

} // namespace eggfall
