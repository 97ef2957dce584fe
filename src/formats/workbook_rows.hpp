#pragma once

#include "eggfall/base/source.hpp"
#include "formats/table.hpp"
#include "formats/workbook.hpp"

#include <functional>
#include <string>

namespace eggfall {

/// Reads the sheet that `source` names, row by row, without the blank ones. Cells are texts as in a
/// table that was typed: numbers in their shortest form at a spreadsheet's 15 digits, dates as
/// YYYY-MM-DD, TRUE and FALSE. A formula is its stored value.
/// @throws InputError if the sheet is damaged, or a cell too long or no UTF-8.
void read_sheet(const Workbook& workbook, const Source& source,
                const std::function<void(TableRow&)>& take);

} // namespace eggfall
