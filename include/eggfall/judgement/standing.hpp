#pragma once

#include "eggfall/base/error.hpp"
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
  few_animals,    ///< Fewer animals were compared than practice asks for (docs/cut-offs.md).
  few_eggs,       ///< Luck in counting so few eggs alone could give this.
  narrow_drench,  ///< The drench is not for all worms, and they were not told apart.
  surviving_worm, ///< A worm told from the others is resistant.
};

/// In the order of their values.
inline constexpr std::array all_bar_codes{
    BarCode::not_covered, BarCode::units_in_doubt, BarCode::day,           BarCode::control,
    BarCode::missing,     BarCode::dose,           BarCode::goat_dose,     BarCode::few_animals,
    BarCode::few_eggs,    BarCode::narrow_drench,  BarCode::surviving_worm};

/// The code's name in JSON, tables and workbooks, which never changes: "not-covered", ...
std::string_view to_string(BarCode code);

/// A bar with this trial's numbers.
struct Bar {
  BarCode code = BarCode::not_covered;
  std::string text;  ///< What was found and why it bars, in a sentence or two.
  std::string plain; ///< The same for the farmer, without a word of statistics.
  Wording next_step; ///< The one thing to do.
  /// Where the threshold that triggers the bar comes from.
  Provenance provenance = Provenance::practice;
  /// Set by the bar `control` alone: the class of the drench's own fall.
  std::optional<VerdictClass> own_verdict = {};
};

/// The class that is left where this bar decides: its own_verdict if it has one; or else not
/// applicable for the bars from not_covered to day, resistant for surviving_worm, and inconclusive
/// for all others.
VerdictClass verdict_class_behind(const Bar& bar);

/// Whether the bar is the control's and leaves a class that says something. Such a bar takes no
/// class away but puts another in its place: all other bars decide before it, and the advice is
/// that of the class.
bool gives_own_verdict(const Bar& bar);

/// Why a drench that meets its rule is to be used with care all the same.
enum class Care {
  later_visit,         ///< On a visit soon after the test's day the counts had fallen too little.
  worm_may_survive,    ///< One of the worms told apart may survive; see may_survive().
  larvae_without_eggs, ///< Larvae hatched where no egg was counted.
  truth_may_be_lower,  ///< The chance of a true fall below what is expected is too great.
  stricter_rule,       ///< By another criterion it is resistant, or suspected to be.
  repeats_disagree,    ///< Counts of one sample differ by more than luck.
  sampled_early,       ///< The drench may only have stopped the worms laying.
  sampled_long_before, ///< So long that counts may have fallen by themselves.
  overdosed,           ///< A high dose can hide early resistance.
  missing_after,       ///< The class hangs on animals that were not found again.
  few_eggs,            ///< So few eggs were counted, or so coarsely, that luck alone may show it.
  few_animals,         ///< Fewer than the guidelines ask for.
  other_warning,       ///< There is a serious caveat, or one animal had most of the eggs.
};

/// In the order of their values.
inline constexpr std::array all_cares{Care::later_visit,
                                      Care::worm_may_survive,
                                      Care::larvae_without_eggs,
                                      Care::truth_may_be_lower,
                                      Care::stricter_rule,
                                      Care::repeats_disagree,
                                      Care::sampled_early,
                                      Care::sampled_long_before,
                                      Care::overdosed,
                                      Care::missing_after,
                                      Care::few_eggs,
                                      Care::few_animals,
                                      Care::other_warning};

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

/// What every reader of a result is shown first: the class of the counts alone, less what the bars
/// take away from it.
struct Standing {
  VerdictClass verdict_class = VerdictClass::not_applicable;
  VerdictClass by_counts_alone = VerdictClass::not_applicable; ///< The class of the first verdict.
  std::vector<Bar> bars; ///< Why the two classes differ; the first bar decides.
  /// What the table does not say but the class takes for granted, such as "the second sample was
  /// taken on day 8 to 10"; empty where there is no class, or all is known.
  std::string provided;
  DrenchSign sign = DrenchSign::cannot_tell;
  /// The first reason for care, if the drench meets its rule and there is any.
  std::optional<Care> care;
  /// To which side an inconclusive result leans that no bar took away.
  std::optional<Leaning> leaning = {};
};

/// Whether the first bar takes the class away: there is one, and it gives no class of its own.
bool is_barred(const Standing& standing);

/// Whether the first bar leaves no class at all: the trial was no test of its drench.
bool was_no_test(const Standing& standing);

} // namespace eggfall
