#pragma once

#include "eggfall/base/source.hpp"
#include "formats/ods_workbook.hpp"
#include "formats/table.hpp"

#include <functional>

namespace eggfall {

/// Reads the sheet that `source` names, row by row, without the blank ones, as read_sheet() of a
/// Workbook does: numbers, percentages and amounts of money by their stored value and not as they
/// are shown, dates as YYYY-MM-DD, times of day as HH:MM:SS, TRUE and FALSE, and of a formula its
/// stored value. Comments are left out. A row or a cell that stands for many is put as many times.
/// @throws InputError if a cell is too long or no UTF-8, lies beyond last_cell, or is one text
///   repeated in more than most_columns columns.
void read_sheet(const OdsWorkbook& workbook, const Source& source,
                const std::function<void(TableRow&)>& take);

} // namespace eggfall
