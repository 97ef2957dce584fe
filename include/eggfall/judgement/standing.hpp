#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/verdict.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// What bars a trial from giving the class that its counts alone give (docs/bars.md). In the order
/// in which they decide: the first that a group has is its first reason.
enum class BarCode {
  not_covered,    ///< No rule here is for these worms or this host.
  units_in_doubt, ///< The numbers look like EPG typed as eggs, or before and after swapped.
  day,            ///< The second sample was taken when a fall does not show what the drench did.
  control,        ///< With the season taken out, as the control tells it, the class differs.
  missing,        ///< The class hangs on animals that were not found again.
  dose,           ///< The doses given explain the fall, or the lack of it.
  goat_dose,      ///< Goats that a dose made for sheep did not clear.
  few_animals,    ///< Fewer than five.
  few_eggs,       ///< Luck in counting so few eggs alone could give this.
  narrow_drench,  ///< The drench is not for all worms, and they were not told apart.
  surviving_worm, ///< A worm told from the others is resistant.
};

/// In the order of their values.
inline constexpr std::array all_bar_codes{
    BarCode::not_covered, BarCode::units_in_doubt, BarCode::day,           BarCode::control,
    BarCode::missing,     BarCode::dose,           BarCode::goat_dose,     BarCode::few_animals,
    BarCode::few_eggs,    BarCode::narrow_drench,  BarCode::surviving_worm};

/// Its name in JSON, tables and workbooks, which stays: "not-covered", ...
std::string_view to_string(BarCode code);
std::optional<BarCode> parse_bar_code(std::string_view name);

/// A bar with this trial's numbers.
struct Bar {
  BarCode code = BarCode::not_covered;
  std::string text;      ///< What was found and why it bars, in a sentence or two.
  std::string plain;     ///< The same for the farmer, without a word of statistics.
  std::string next_step; ///< The one thing to do.
  Provenance provenance = Provenance::practice; ///< Of its trigger.
  std::optional<VerdictClass> own_class = {}; ///< Of the control's bar: that of the drench's fall.
};

/// The class that a bar leaves: its own; or else not applicable up to the day, resistant for a
/// surviving worm, and inconclusive for the others.
VerdictClass class_behind(const Bar& bar);

/// Whether the bar is the control's and leaves a class that says something: then all others decide
/// before it, and the class's own advice holds.
bool gives_own_class(const Bar& bar);

/// Why a drench that meets its rule is to be used with care all the same.
enum class Care {
  worm_may_survive,    ///< Of the worms told apart; see may_survive().
  larvae_without_eggs, ///< Larvae hatched where no egg was counted.
  truth_may_be_lower,  ///< The chance of a true fall below what is expected is above a third.
  stricter_rule,       ///< By another criterion it is resistant, or suspected to be.
  repeats_disagree,    ///< Counts of one sample differ by more than luck.
  sampled_early,       ///< The drench may only have stopped the worms laying.
  sampled_long_before, ///< So long that counts may have fallen by themselves.
  overdosed,           ///< A high dose can hide early resistance.
  missing_after,       ///< The class hangs on animals that were not found again.
  other_warning,       ///< A serious caveat, or one animal with most of the eggs.
};

/// In the order of their values.
inline constexpr std::array all_cares{Care::worm_may_survive,    Care::larvae_without_eggs,
                                      Care::truth_may_be_lower,  Care::stricter_rule,
                                      Care::repeats_disagree,    Care::sampled_early,
                                      Care::sampled_long_before, Care::overdosed,
                                      Care::missing_after,       Care::other_warning};

/// To which side an inconclusive result leans, by the chance that speaks most for the drench. It is
/// no class: but that "either way" be not read into it, it is said.
enum class Leaning {
  failing,        ///< A true fall below the lower threshold is more likely than not.
  below_expected, ///< One below the expected efficacy is.
};

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

/// What every reader of a result is shown: what is left of the class by the counts alone.
struct Standing {
  VerdictClass verdict_class = VerdictClass::not_applicable;
  VerdictClass by_counts_alone = VerdictClass::not_applicable; ///< The first verdict's.
  std::vector<Bar> bars; ///< Why the two differ; the first decides.
  /// What the table does not say and a class takes for granted, as "the second sample was taken on
  /// day 8 to 10"; empty where there is no class, or all is known.
  std::string provided;
  DrenchSign sign = DrenchSign::cannot_tell;
  std::optional<Care> care; ///< The first reason, if the drench meets its rule and there is one.
  std::optional<Leaning> leaning = {}; ///< Of an inconclusive result that no bar took away.
};

} // namespace eggfall
