#pragma once

#include <string>
#include <utility>
#include <vector>

/// Names and contents of the parts of a zip file.
using ZipParts = std::vector<std::pair<std::string, std::string>>;

std::string zip_of(const ZipParts& parts);

/// Every part locked with a password.
std::string locked_zip_of(const ZipParts& parts);

/// The parts of a workbook with one sheet "Counts", whose rows are this XML.
ZipParts parts_of_workbook(const std::string& rows);

std::string workbook_of(const std::string& rows);

/// `parts` with one more, or another in its place.
ZipParts with_part(ZipParts parts, const std::string& name, const std::string& content);
