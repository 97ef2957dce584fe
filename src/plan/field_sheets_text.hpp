#pragma once

#include "plan/field_sheets.hpp"

#include <string>

namespace eggfall {

/// The sheets as one HTML page, to be printed on A4 or Letter: what to do when, groups and kit; a
/// yard sheet for the day of treatment and one for the second sample; a bench sheet for each. The
/// bench sheets do not name the groups, so that who counts does not know them.
std::string field_sheets_page(const FieldSheets& sheets);

/// Groups, how even they are, and days, as plain text of at most 80 columns.
std::string field_sheets_text(const FieldSheets& sheets);

} // namespace eggfall
