#include "formats/workbook.hpp"

#include "formats/workbook_parts.hpp"
#include "formats/xml_nodes.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <utility>

namespace eggfall {
namespace {

/// A part of a workbook that another refers to.
struct Relation {
  std::string id;
  std::string type; ///< The last word of its address, such as "worksheet".
  std::string part;
};

/// "xl/_rels/workbook.xml.rels" for "xl/workbook.xml"
std::string relations_part(const std::string& part) {
  const std::size_t name = part.rfind('/') + 1;
  return part.substr(0, name) + "_rels/" + part.substr(name) + ".rels";
}

/// A target as a part's name; it is relative to the part that refers to it, or starts with "/".
std::string part_named(const std::string& from, const std::string& target) {
  namespace fs = std::filesystem;
  const fs::path path = fs::path("/" + from).parent_path() / target;
  return path.lexically_normal().relative_path().generic_string();
}

std::vector<Relation> relations(const pugi::xml_document& xml, const std::string& from) {
  std::vector<Relation> found;
  for (const pugi::xml_node& each : xml.document_element()) {
    const std::string_view type = each.attribute("Type").value();
    found.push_back({each.attribute("Id").value(), std::string(type.substr(type.rfind('/') + 1)),
                     part_named(from, each.attribute("Target").value())});
  }
  return found;
}

/// The attribute r:id; its prefix is the writer's choice.
std::string relation_id(const pugi::xml_node& node) {
  for (const pugi::xml_attribute& each : node.attributes())
    if (const std::string_view name = each.name();
        name.find(':') != std::string_view::npos && local_name(name) == "id")
      return each.value();
  return {};
}

} // namespace

std::string string_item_text(const pugi::xml_node& item) {
  std::string text;
  for (const pugi::xml_node& child : item) {
    if (is_named(child, "t"))
      text += text_within(child);
    else if (is_named(child, "r"))
      text += text_within(child_named(child, "t"));
  }
  return text;
}

Workbook::Workbook(ZipArchive archive) : archive_(std::move(archive)) {
  std::string main_part;
  if (const auto package = xml(relations_part("")))
    for (const Relation& each : relations(*package, ""))
      if (each.type == "officeDocument")
        main_part = each.part;
  const auto workbook = main_part.empty() ? std::nullopt : xml(main_part);
  if (!workbook || !is_named(workbook->document_element(), "workbook"))
    refuse_no_workbook(archive_);
  const pugi::xml_node root = workbook->document_element();
  if (child_named(root, "workbookPr").attribute("date1904").as_bool())
    date_system_ = DateSystem::from_1904;
  read_sheets(main_part, root);
  if (sheets_.empty())
    refuse_without_sheet(archive_);
}

std::optional<pugi::xml_document> Workbook::xml(const std::string& part) const {
  return xml_part(archive_, part, pugi::parse_default | pugi::parse_ws_pcdata_single);
}

void Workbook::read_sheets(const std::string& part, const pugi::xml_node& workbook) {
  std::vector<Relation> all;
  if (const auto rels = xml(relations_part(part)))
    all = relations(*rels, part);
  // One of each is all there may be: a small file could have a large part read without end.
  const auto shared_strings = std::ranges::find(all, "sharedStrings", &Relation::type);
  if (shared_strings != all.end())
    read_shared_strings(shared_strings->part);
  const auto styles = std::ranges::find(all, "styles", &Relation::type);
  if (styles != all.end())
    read_styles(styles->part);
  std::map<std::string, Relation> by_id;
  for (Relation& each : all) {
    std::string id = each.id;
    by_id.emplace(std::move(id), std::move(each));
  }
  for (const pugi::xml_node& each : child_named(workbook, "sheets")) {
    const auto found = by_id.find(relation_id(each));
    if (found != by_id.end() && found->second.type == "worksheet")
      sheets_.push_back({sheet_name_or_number(each.attribute("name").value(), sheets_.size() + 1),
                         found->second.part});
  }
}

void Workbook::read_shared_strings(const std::string& part) {
  const auto table = xml(part);
  if (!table)
    archive_.refuse_damaged(part);
  for (const pugi::xml_node& item : table->document_element())
    if (is_named(item, "si"))
      shared_strings_.push_back(string_item_text(item));
}

void Workbook::read_styles(const std::string& part) {
  const auto styles = xml(part);
  if (!styles)
    archive_.refuse_damaged(part);
  std::map<unsigned, bool> own_formats;
  for (const pugi::xml_node& format : child_named(styles->document_element(), "numFmts"))
    own_formats[format.attribute("numFmtId").as_uint()] =
        is_date_format(std::string(format.attribute("formatCode").value()));
  for (const pugi::xml_node& style : child_named(styles->document_element(), "cellXfs")) {
    const unsigned id = style.attribute("numFmtId").as_uint();
    const auto own = own_formats.find(id);
    date_styles_.push_back(own != own_formats.end() ? own->second : is_date_format(id));
  }
}

std::vector<std::string> Workbook::sheet_names() const {
  std::vector<std::string> names;
  for (const SheetPart& sheet : sheets_)
    names.push_back(sheet.name);
  return names;
}

pugi::xml_document Workbook::sheet(const std::string& name) const {
  const auto found = std::ranges::find(sheets_, name, &SheetPart::name);
  auto document = xml(found->part);
  if (!document || !is_named(document->document_element(), "worksheet"))
    archive_.refuse_damaged(found->part);
  return std::move(*document);
}

std::optional<std::string_view> Workbook::shared_string(std::size_t index) const {
  return index < shared_strings_.size() ? std::optional<std::string_view>(shared_strings_[index])
                                        : std::nullopt;
}

bool Workbook::shows_date(std::size_t style) const {
  return style < date_styles_.size() && date_styles_[style];
}

} // namespace eggfall
