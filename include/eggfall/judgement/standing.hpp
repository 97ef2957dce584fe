#pragma once

#include "eggfall/judgement/verdict.hpp"

#include <array>
#include <optional>

namespace eggfall {

/// Why a drench that meets its rule is to be used with care all the same.
enum class Care {
  worm_may_survive,    ///< Of the worms told apart; see may_survive().
  larvae_without_eggs, ///< Larvae hatched where no egg was counted.
  truth_may_be_lower,  ///< The chance of a true fall below what is expected is above a third.
  stricter_rule,       ///< By another criterion it is resistant, or suspected to be.
  repeats_disagree,    ///< Counts of one sample differ by more than luck.
  sampled_early,       ///< The drench may only have stopped the worms laying.
  overdosed,           ///< A high dose can hide early resistance.
  missing_after,       ///< The class hangs on animals that were not found again.
  other_warning,       ///< A serious caveat, or one animal with most of the eggs.
};

/// In the order of their values.
inline constexpr std::array all_cares{
    Care::worm_may_survive, Care::larvae_without_eggs, Care::truth_may_be_lower,
    Care::stricter_rule,    Care::repeats_disagree,    Care::sampled_early,
    Care::overdosed,        Care::missing_after,       Care::other_warning};

/// What is to be thought of a drench at the first glance.
enum class DrenchSign {
  works,
  works_with_care, ///< The rule is met, but a worm survives or there is a reason for care.
  some_survive,
  may_fail,
  failing,
  cannot_tell,
};

/// In the order of their values.
inline constexpr std::array all_drench_signs{DrenchSign::works,        DrenchSign::works_with_care,
                                             DrenchSign::some_survive, DrenchSign::may_fail,
                                             DrenchSign::failing,      DrenchSign::cannot_tell};

/// What every reader of a result is shown.
struct Standing {
  VerdictClass verdict_class = VerdictClass::not_applicable;
  DrenchSign sign = DrenchSign::cannot_tell;
  std::optional<Care> care; ///< The first reason, if the drench meets its rule and there is one.
};

} // namespace eggfall
