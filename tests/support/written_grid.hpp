#pragma once

#include <string>
#include <vector>

// Tables of texts as files.

using Row = std::vector<std::string>;
using Grid = std::vector<Row>;

/// As the bytes of a text in Windows-1252, or in UTF-16 with its mark; `text` is UTF-8 of Latin
/// letters.
std::string in_windows_1252(const std::string& text);
std::string in_utf_16(const std::string& text);

/// Cells that hold the separator stand in double quotes.
std::string csv_of(const Grid& grid, char separator);

/// "<table:table ...>" of an .ods workbook, with short whole numbers as numbers.
std::string ods_table(const Grid& grid, const std::string& name);
