#pragma once

#include "base/problems.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "intake/layout.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// Turns the cells of counts into numbers as a counts table has them, each with its unit: words
/// into 0 or nothing, "<50" into 0 where it means no egg, rounded EPG into whole multiples of the
/// factor, means of several counts into their sum at the factor of it.
///
/// A column that says neither eggs nor EPG is EPG if a title says so, if it has fractions, or if
/// all its numbers (enough of them) are multiples of the factor, which eggs seen would be by a luck
/// of less than one in a million.
/// @param around titles and notes of the sheets, and `notes` the same row by row.
/// @throws OpenQuestion where eggs or EPG, a word, a limit, or a mean of several counts is left
/// open.
void settle_counts(std::vector<RawAnimal>& animals, const std::vector<std::string>& around,
                   const Layout& layout, const ReadOptions& options, Problems& problems,
                   ReadingLog& log, const std::vector<RawCell>& notes = {});

} // namespace eggfall
