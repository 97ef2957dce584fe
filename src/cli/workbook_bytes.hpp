#pragma once

#include "report/analysis_workbook.hpp"

#include <string>
#include <vector>

namespace eggfall::cli {

/// An .xlsx workbook of these sheets: bold header rows that stay in view, texts as texts whatever
/// they look like, numbers as numbers, and nothing in the cell of a number that is not finite.
/// @throws InputError for more rows than a sheet holds; CalculationError if the workbook cannot be
///   made in the directory for temporary files.
std::string workbook_bytes(const std::vector<ResultSheet>& sheets);

} // namespace eggfall::cli
