#pragma once

#include "report/analysis_workbook.hpp"

#include <xlsxwriter.h>

#include <cstddef>
#include <vector>

namespace eggfall {

/// Puts results into a workbook that was begun, a sheet each, with a bold header that stays in
/// sight; the caller closes it. The same results give the same bytes.
/// @return how many cells each sheet has, for is_whole().
/// @throws InputError for more rows than a sheet holds, CalculationError if the library refuses.
std::vector<std::size_t> fill_workbook(lxw_workbook* workbook,
                                       const std::vector<ResultSheet>& sheets);

} // namespace eggfall
