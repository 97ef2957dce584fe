#include "formats/workbook_parts.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace eggfall {
namespace {

/// Too many for any table, and each takes far more memory than it takes bytes.
constexpr std::ptrdiff_t most_tags = 30'000'000;

constexpr const char* a_workbook_or_text =
    "an .xlsx or .ods workbook with a worksheet, or a text table; save the sheet as \"CSV UTF-8\"";

} // namespace

std::optional<pugi::xml_document> xml_part(const ZipArchive& archive, const std::string& part,
                                           unsigned options) {
  const auto text = archive.part(part);
  if (!text)
    return std::nullopt;
  if (std::ranges::count(*text, '<') > most_tags)
    archive.refuse(fmt::format("more than {} tags in its part {}", most_tags, in_quotes(part)),
                   "a smaller workbook");
  pugi::xml_document document;
  if (!document.load_buffer(text->data(), text->size(), options))
    archive.refuse_damaged(part);
  return document;
}

std::string sheet_name_or_number(std::string_view name, std::size_t number) {
  return name.empty() ? fmt::format("Sheet{}", number) : std::string(name);
}

void refuse_no_workbook(const ZipArchive& archive) {
  archive.refuse("a zip file that is no .xlsx or .ods workbook", a_workbook_or_text);
}

void refuse_without_sheet(const ZipArchive& archive) {
  archive.refuse("a workbook without a worksheet", a_workbook_or_text);
}

} // namespace eggfall
