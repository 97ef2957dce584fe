#pragma once

#include "formats/zip_archive.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// A part of a workbook as XML, read with these options of pugixml; nothing if there is none.
/// @throws InputError if it is damaged, encrypted, too large, or of more than 30,000,000 tags.
std::optional<pugi::xml_document> xml_part(const ZipArchive& archive, const std::string& part,
                                           unsigned options);

/// The name of a sheet, or "Sheet2" for the second of a workbook whose writer gave it none.
std::string sheet_name_or_number(std::string_view name, std::size_t number);

/// @throws InputError for a zip file that holds something else.
[[noreturn]] void refuse_no_workbook(const ZipArchive& archive);

/// @throws InputError for a workbook in which there is nothing to read.
[[noreturn]] void refuse_without_sheet(const ZipArchive& archive);

} // namespace eggfall
