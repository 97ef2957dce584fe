#pragma once

#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial.hpp"

#include <string_view>
#include <vector>

namespace eggfall {

/// Adds to each group the larvae told apart in cultures of its faeces, from a larvae table
/// (docs/data-format.md): a line for each group, time (before or after treatment) and worm, with
/// the whole number of larvae, 0 to 1,000,000, or their percentage. Worms come in canonical_worm()
/// spelling and in the table's order. `source` is as in read_table().
///
/// Percentages with the number told apart give back whole numbers of larvae where they can only
/// stand for one each; else the culture has Culture::percentages. One culture before treatment may
/// be of several groups ("all", "*", "white + yellow"), which then have a copy each.
///
/// The trial's name may be left out where there is only one trial.
///
/// @return the trials with their cultures, and notes on what was understood loosely.
/// @throws InputError, with up to 20 problems, for anything read_table() refuses; a missing,
/// doubled
///   or misspelt column; a trial or group that is not among `trials`; a time, or a number of
///   larvae, that is none; a worm twice in one culture, be it under two names; larvae and
///   percentages in one culture, or neither; percentages that no whole number of larvae gives, or
///   that cannot sum to 100 within their rounding; a second number told apart, or rounding, of one
///   culture; a culture of several groups after treatment, or a second one of a group; two names in
///   cultures that are compared, each in one of them alone, that may be of one worm (one is cut
///   short or almost the other), since that worm's larvae would seem gone after treatment.
TrialTable read_cultures(std::string_view bytes, const Source& source, std::vector<Trial> trials);

} // namespace eggfall
