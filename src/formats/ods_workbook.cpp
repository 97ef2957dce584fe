#include "formats/ods_workbook.hpp"

#include "formats/workbook_parts.hpp"
#include "formats/xml_nodes.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr const char* manifest_part = "META-INF/manifest.xml";
constexpr const char* content_part = "content.xml";

/// With a password the parts are there, but as noise: the manifest alone tells it.
bool is_encrypted(const ZipArchive& archive) {
  const auto manifest = xml_part(archive, manifest_part, pugi::parse_default);
  if (!manifest)
    return false;
  const pugi::xml_node entries = manifest->document_element();
  return std::ranges::any_of(entries, [](const pugi::xml_node& entry) {
    return !child_named(entry, "encryption-data").empty();
  });
}

/// A copy of another file's sheet that formulas refer to, kept beside the sheets and never shown:
/// "'file:///flock.ods'#Ewes".
bool is_copy_of_another_file(const pugi::xml_node& table) {
  const std::string_view name = attribute_named(table, "name");
  return name.starts_with('\'') && name.find("'#") != std::string_view::npos &&
         !child_named(table, "table-source").empty();
}

} // namespace

OdsWorkbook::OdsWorkbook(const ZipArchive& archive) {
  if (is_encrypted(archive))
    archive.refuse_password();
  // Blanks between the pieces of a text are kept: they part words.
  auto content = xml_part(archive, content_part, pugi::parse_default | pugi::parse_ws_pcdata);
  if (!content)
    archive.refuse_damaged(content_part);
  content_ = std::move(*content);
  const pugi::xml_node body = child_named(content_.document_element(), "body");
  if (child_named(body, "spreadsheet").empty())
    refuse_no_workbook(archive);
  if (tables().empty())
    refuse_without_sheet(archive);
}

bool OdsWorkbook::is_in(const ZipArchive& archive) {
  return !archive.has("_rels/.rels") && (archive.has(content_part) || archive.has(manifest_part));
}

std::vector<OdsWorkbook::NamedTable> OdsWorkbook::tables() const {
  const pugi::xml_node body = child_named(content_.document_element(), "body");
  std::vector<NamedTable> found;
  for (const pugi::xml_node& each : child_named(body, "spreadsheet"))
    if (is_named(each, "table") && !is_copy_of_another_file(each))
      found.push_back(
          {sheet_name_or_number(attribute_named(each, "name"), found.size() + 1), each});
  return found;
}

std::vector<std::string> OdsWorkbook::sheet_names() const {
  std::vector<std::string> names;
  for (NamedTable& table : tables())
    names.push_back(std::move(table.name));
  return names;
}

pugi::xml_node OdsWorkbook::sheet(const std::string& name) const {
  const std::vector<NamedTable> all = tables();
  return std::ranges::find(all, name, &NamedTable::name)->table;
}

} // namespace eggfall
