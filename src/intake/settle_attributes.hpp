#pragma once

#include "base/problems.hpp"
#include "intake/layout.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"

#include <vector>

namespace eggfall {

/// Writes what is known of animals and groups as a counts table has it: dates as YYYY-MM-DD, roles
/// as treated and control, hosts in English, weights in kg (those in pounds turned into them, and
/// told) and doses in mL without their unit. A drench that is
/// none ("untreated") makes its group the control. What is not understood stays as it is, for the
/// reader of counts tables to refuse at its place.
void settle_attributes(std::vector<RawAnimal>& animals, const Layout& layout,
                       std::optional<DateOrder> order, Problems& problems, ReadingLog& log);

/// The order of day and month in the dates of all sheets: the layout's, or the one that all of them
/// allow; nothing if no date hangs on it.
/// @throws OpenQuestion if both do, InputError if neither does.
std::optional<DateOrder> date_order_of(const std::vector<SheetReading>& sheets,
                                       const Layout& layout, ReadingLog& log);

} // namespace eggfall
