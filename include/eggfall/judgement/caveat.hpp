#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// How much a caveat may change what one should think of the result.
enum class Severity { serious, warning, note };

std::string_view to_string(Severity severity);

/// What a caveat is about. docs/methods.md says when each is told.
enum class CaveatCode {
  no_estimate,
  no_interval,
  few_animals,
  pooled,
  repeats_disagree,
  few_eggs_counted,
  low_mean_before,
  mean_implausible,
  none_after,
  interval_optimistic,
  animals_differ,
  prior_matters,
  one_animal,
  point_and_interval,
  detection_limit,
  zero_before,
  season_unseen,
  control_changed,
  counts_rose,
  factors_differ,
  worm_survives,
  worm_in_doubt,
  worms_not_told_apart,
  larvae_without_eggs,
  larvae_left_out,
  culture_stands_in,
  culture_of_several_groups,
  larvae_in_percent,
  dropped,
  several_groups,
  underdosed,
  overdosed,
  weights_missing,
  doses_missing,
  label_rate_missing,
  days_missing,
  sampled_early,
  sampled_late,
  days_apart,
  sampled_long_before,
  later_visit,
  control_days,
  treated_apart,
  units_confirmed,
  missing_after,
  worm_absent_before,
  no_larvae,
  few_larvae,
  worm_absent_after,
};

/// In the order of their values.
inline constexpr std::array all_caveat_codes{CaveatCode::no_estimate,
                                             CaveatCode::no_interval,
                                             CaveatCode::few_animals,
                                             CaveatCode::pooled,
                                             CaveatCode::repeats_disagree,
                                             CaveatCode::few_eggs_counted,
                                             CaveatCode::low_mean_before,
                                             CaveatCode::mean_implausible,
                                             CaveatCode::none_after,
                                             CaveatCode::interval_optimistic,
                                             CaveatCode::animals_differ,
                                             CaveatCode::prior_matters,
                                             CaveatCode::one_animal,
                                             CaveatCode::point_and_interval,
                                             CaveatCode::detection_limit,
                                             CaveatCode::zero_before,
                                             CaveatCode::season_unseen,
                                             CaveatCode::control_changed,
                                             CaveatCode::counts_rose,
                                             CaveatCode::factors_differ,
                                             CaveatCode::worm_survives,
                                             CaveatCode::worm_in_doubt,
                                             CaveatCode::worms_not_told_apart,
                                             CaveatCode::larvae_without_eggs,
                                             CaveatCode::larvae_left_out,
                                             CaveatCode::culture_stands_in,
                                             CaveatCode::culture_of_several_groups,
                                             CaveatCode::larvae_in_percent,
                                             CaveatCode::dropped,
                                             CaveatCode::several_groups,
                                             CaveatCode::underdosed,
                                             CaveatCode::overdosed,
                                             CaveatCode::weights_missing,
                                             CaveatCode::doses_missing,
                                             CaveatCode::label_rate_missing,
                                             CaveatCode::days_missing,
                                             CaveatCode::sampled_early,
                                             CaveatCode::sampled_late,
                                             CaveatCode::days_apart,
                                             CaveatCode::sampled_long_before,
                                             CaveatCode::later_visit,
                                             CaveatCode::control_days,
                                             CaveatCode::treated_apart,
                                             CaveatCode::units_confirmed,
                                             CaveatCode::missing_after,
                                             CaveatCode::worm_absent_before,
                                             CaveatCode::no_larvae,
                                             CaveatCode::few_larvae,
                                             CaveatCode::worm_absent_after};

/// The code's name in JSON and workbooks, which never changes: "few-animals", ...
std::string_view to_string(CaveatCode code);

/// A weakness of this trial.
struct Caveat {
  CaveatCode code = CaveatCode::no_estimate;
  std::string text; ///< One sentence or two, with this trial's numbers.
  Severity severity = Severity::note;
};

/// Whether a caveat of this code is among them that is at least as severe: what is a reason for
/// care as a warning is one all the more when it is serious.
bool has_caveat(const std::vector<Caveat>& caveats, CaveatCode code, Severity at_least);

} // namespace eggfall
