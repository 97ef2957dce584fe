#include "formats/workbook_parts.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <string_view>

namespace eggfall {
namespace {

/// Too many for any table, and each takes far more memory than it takes bytes: 64 a tag and 40 to
/// 50 an attribute.
constexpr std::size_t most_tags = 16'000'000;
constexpr std::size_t most_attributes = 16'000'000;

/// Opening and closing tags; and signs of equality, of which each attribute has one.
struct Marks {
  std::size_t tags = 0;
  std::size_t attributes = 0;
};

Marks marks_in(std::string_view xml) {
  Marks marks;
  for (const char c : xml) {
    marks.tags += c == '<' ? 1U : 0U;
    marks.attributes += c == '=' ? 1U : 0U;
  }
  return marks;
}

constexpr const char* a_workbook_or_text =
    "an .xlsx or .ods workbook with a worksheet, or a text table; save the sheet as \"CSV UTF-8\"";

} // namespace

std::optional<pugi::xml_document> xml_part(const ZipArchive& archive, const std::string& part,
                                           unsigned options) {
  const auto text = archive.part(part);
  if (!text)
    return std::nullopt;
  const Marks marks = marks_in(*text);
  const auto refuse = [&](std::size_t most, std::string_view what) {
    archive.refuse(fmt::format("more than {} {} in its part {}", most, what, in_quotes(part)),
                   "a smaller workbook");
  };
  if (marks.tags > most_tags)
    refuse(most_tags, "tags");
  if (marks.attributes > most_attributes)
    refuse(most_attributes, "attributes");
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
