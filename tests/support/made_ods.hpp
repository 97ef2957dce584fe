#pragma once

#include "support/made_workbook.hpp"

#include <string>

/// The parts of an .ods workbook, whose tables are this XML (OASIS OpenDocument 1.2).
ZipParts parts_of_ods(const std::string& tables);

/// With one table "Counts" of these rows.
std::string ods_of(const std::string& rows);

/// "<table:table-cell ...>" of a text.
std::string ods_text(const std::string& text);

/// The same of a number, which is shown with two decimals.
std::string ods_number(const std::string& value);
