#pragma once

#include "base/problems.hpp"
#include "intake/layout.hpp"
#include "intake/reading_log.hpp"
#include "intake/sheet_reading.hpp"

namespace eggfall {

/// Fills in what people write once for several rows, and tells it:
///
/// - A trial, a farm or a year at the head of its rows alone, as merged cells have it; several such
///   columns together, where each of their lines stands once ("Alder, 2030"). Or in one of the rows
///   of an animal, where a row is a sample.
/// - The drench, or the role, of an animal whose rows are samples, where only those of the one time
///   say it. "None" beside the sample before treatment is no untreated animal if the sample after
///   it names a drench. (Two animals of one tag in two groups have rows of the same times.)
///
/// An animal that has two drenches, or is treated and untreated, at two times is a problem: either
/// of them would be taken for a group of its own.
void fill_rows(SheetReading& reading, const Layout& layout, Problems& problems, ReadingLog& log);

} // namespace eggfall
