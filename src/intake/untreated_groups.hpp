#pragma once

#include "base/problems.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "intake/layout.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"

#include <string_view>
#include <vector>

namespace eggfall {

/// Whether a cell of a drench or a dose names something that was given: no mark or word for
/// nothing, and no 0.
bool names_a_treatment(std::string_view text, const TableWords& words);

/// Gives the groups that the layout says were treated that role, whatever their names say.
void take_treated(std::vector<RawAnimal>& animals, const Layout& layout);

/// Takes the one group without a role whose whole name is control, or a longer word for it, for the
/// control, and tells it; none if the animals have a control, or the option names one. For tables
/// of their owner's own form: ours has a column for it, and asks.
/// @throws OpenQuestion where rows of a group that a name, or a drench such as "none", makes the
///   control tell of a treatment.
void take_control_by_name(std::vector<RawAnimal>& animals, const Layout& layout,
                          const ReadOptions& options, ReadingLog& log);

/// A dose of 0 in the rows of untreated animals is no dose, and is told. One of a treated animal is
/// left to be refused: it may be a slip, or an animal that was left out.
void take_no_doses(std::vector<RawAnimal>& animals, const ReadOptions& options, ReadingLog& log);

/// Groups without a role whose names speak of untreated animals are problems: the reader of counts
/// tables knows "control" and its like, but "Ctrl" and "Kontrolle" it would judge as drenched.
void refuse_silent_controls(const std::vector<RawAnimal>& animals, const Layout& layout,
                            const ReadOptions& options, Problems& problems);

} // namespace eggfall
