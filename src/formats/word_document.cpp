#include "formats/word_document.hpp"

#include "base/user_text.hpp"
#include "formats/zip_writer.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <sstream>
#include <string_view>

namespace eggfall {
namespace {

// Lengths are in twentieths of a point, as the format has them: 1,440 an inch.
constexpr unsigned page_width = 11'906; // A4
constexpr unsigned page_height = 16'838;
constexpr unsigned margin_beside = 1'134; // 20 mm
constexpr unsigned margin_above = 737;    // 13 mm
constexpr unsigned text_width = page_width - 2 * margin_beside;

constexpr std::string_view words_namespace =
    "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
constexpr std::string_view xml_head = R"(<?xml version="1.0" encoding="UTF-8" standalone="yes"?>)"
                                      "\n";

constexpr std::string_view content_types =
    R"(<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">)"
    R"(<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>)"
    R"(<Default Extension="xml" ContentType="application/xml"/>)"
    R"(<Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/>)"
    R"(<Override PartName="/word/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.styles+xml"/>)"
    R"(<Override PartName="/word/settings.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.settings+xml"/>)"
    R"(<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/>)"
    R"(</Types>)";

constexpr std::string_view package_relationships =
    R"(<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">)"
    R"(<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/>)"
    R"(<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties" Target="docProps/core.xml"/>)"
    R"(</Relationships>)";

constexpr std::string_view document_relationships =
    R"(<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">)"
    R"(<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/>)"
    R"(<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/settings" Target="settings.xml"/>)"
    R"(</Relationships>)";

/// Without it a word processor takes the file for one of an old version of itself.
constexpr std::string_view settings =
    R"(<w:settings xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main">)"
    R"(<w:compat><w:compatSetting w:name="compatibilityMode" )"
    R"(w:uri="http://schemas.microsoft.com/office/word" w:val="15"/></w:compat></w:settings>)";

/// A typeface that every machine has, or one of the same widths.
constexpr std::string_view document_styles =
    R"(<w:styles xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:docDefaults>)"
    R"(<w:rPrDefault><w:rPr><w:rFonts w:ascii="Arial" w:hAnsi="Arial" w:eastAsia="Arial" w:cs="Arial"/>)"
    R"(<w:sz w:val="20"/><w:szCs w:val="20"/><w:lang w:val="en-GB" w:eastAsia="en-GB" w:bidi="ar-SA"/>)"
    R"(</w:rPr></w:rPrDefault>)"
    R"(<w:pPrDefault><w:pPr><w:spacing w:after="70" w:line="250" w:lineRule="auto"/></w:pPr></w:pPrDefault>)"
    R"(</w:docDefaults>)"
    R"(<w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/><w:qFormat/></w:style>)"
    R"(<w:style w:type="character" w:default="1" w:styleId="DefaultParagraphFont">)"
    R"(<w:name w:val="Default Paragraph Font"/><w:uiPriority w:val="1"/><w:semiHidden/></w:style>)"
    R"(<w:style w:type="table" w:default="1" w:styleId="TableNormal"><w:name w:val="Normal Table"/>)"
    R"(<w:uiPriority w:val="99"/><w:semiHidden/><w:tblPr><w:tblInd w:w="0" w:type="dxa"/>)"
    R"(<w:tblCellMar><w:top w:w="0" w:type="dxa"/><w:left w:w="108" w:type="dxa"/>)"
    R"(<w:bottom w:w="0" w:type="dxa"/><w:right w:w="108" w:type="dxa"/></w:tblCellMar></w:tblPr></w:style>)"
    R"(<w:style w:type="paragraph" w:styleId="Heading1"><w:name w:val="heading 1"/><w:basedOn w:val="Normal"/>)"
    R"(<w:next w:val="Normal"/><w:qFormat/><w:pPr><w:keepNext/><w:spacing w:before="120" w:after="80"/>)"
    R"(<w:outlineLvl w:val="0"/></w:pPr><w:rPr><w:b/><w:bCs/><w:sz w:val="28"/><w:szCs w:val="28"/></w:rPr></w:style>)"
    R"(<w:style w:type="paragraph" w:styleId="Heading2"><w:name w:val="heading 2"/><w:basedOn w:val="Normal"/>)"
    R"(<w:next w:val="Normal"/><w:qFormat/><w:pPr><w:keepNext/><w:spacing w:before="120" w:after="20"/>)"
    R"(<w:outlineLvl w:val="1"/></w:pPr><w:rPr><w:b/><w:bCs/><w:sz w:val="22"/><w:szCs w:val="22"/></w:rPr></w:style>)"
    R"(<w:style w:type="paragraph" w:customStyle="1" w:styleId="SmallPrint"><w:name w:val="Small print"/>)"
    R"(<w:basedOn w:val="Normal"/><w:qFormat/><w:pPr><w:spacing w:before="40"/></w:pPr>)"
    R"(<w:rPr><w:sz w:val="18"/><w:szCs w:val="18"/></w:rPr></w:style>)"
    R"(<w:style w:type="paragraph" w:customStyle="1" w:styleId="Entry"><w:name w:val="Entry"/>)"
    R"(<w:basedOn w:val="Normal"/><w:qFormat/><w:pPr><w:tabs><w:tab w:val="left" w:leader="underscore" w:pos="7000"/>)"
    R"(</w:tabs><w:spacing w:before="60" w:after="40"/></w:pPr></w:style>)"
    R"(<w:style w:type="paragraph" w:customStyle="1" w:styleId="Signature1"><w:name w:val="Signature line"/>)"
    R"(<w:basedOn w:val="Entry"/><w:qFormat/><w:pPr><w:spacing w:before="360"/></w:pPr></w:style>)"
    R"(<w:style w:type="paragraph" w:customStyle="1" w:styleId="Cell"><w:name w:val="Cell"/>)"
    R"(<w:basedOn w:val="Normal"/><w:qFormat/><w:pPr><w:spacing w:before="15" w:after="15" w:line="240" w:lineRule="auto"/>)"
    R"(</w:pPr><w:rPr><w:sz w:val="18"/><w:szCs w:val="18"/></w:rPr></w:style>)"
    R"(<w:style w:type="table" w:styleId="TableGrid"><w:name w:val="Table Grid"/><w:basedOn w:val="TableNormal"/>)"
    R"(<w:tblPr><w:tblBorders><w:top w:val="single" w:sz="4" w:space="0" w:color="666666"/>)"
    R"(<w:left w:val="single" w:sz="4" w:space="0" w:color="666666"/>)"
    R"(<w:bottom w:val="single" w:sz="4" w:space="0" w:color="666666"/>)"
    R"(<w:right w:val="single" w:sz="4" w:space="0" w:color="666666"/>)"
    R"(<w:insideH w:val="single" w:sz="4" w:space="0" w:color="666666"/>)"
    R"(<w:insideV w:val="single" w:sz="4" w:space="0" w:color="666666"/></w:tblBorders></w:tblPr></w:style>)"
    R"(</w:styles>)";

std::string_view style_name(TextStyle style) {
  switch (style) {
  case TextStyle::title:
    return "Heading1";
  case TextStyle::heading:
    return "Heading2";
  case TextStyle::note:
    return "SmallPrint";
  case TextStyle::body:
    break;
  }
  return "";
}

void put(pugi::xml_node node, const char* attribute, std::string_view value) {
  node.append_attribute(attribute).set_value(std::string(value).c_str());
}

void put(pugi::xml_node node, const char* attribute, unsigned value) {
  node.append_attribute(attribute).set_value(value);
}

pugi::xml_node add_with_value(pugi::xml_node parent, const char* name, std::string_view value) {
  pugi::xml_node node = parent.append_child(name);
  put(node, "w:val", value);
  return node;
}

std::string xml_of(const pugi::xml_document& document) {
  std::ostringstream out;
  document.save(out, "", pugi::format_raw | pugi::format_no_declaration, pugi::encoding_utf8);
  return std::string(xml_head) + out.str();
}

/// The blocks of a document, one after another, in its body.
class WordWriter {
public:
  WordWriter() {
    pugi::xml_node root = document_.append_child("w:document");
    put(root, "xmlns:w", words_namespace);
    body_ = root.append_child("w:body");
  }

  void start_part() { new_page_ = !body_.first_child().empty(); }

  void operator()(const TextParagraph& paragraph) {
    pugi::xml_node node = add_paragraph(body_, style_name(paragraph.style));
    for (const TextRun& run : paragraph.runs)
      add_run(node, run);
  }

  void operator()(const TextEntry& entry) {
    pugi::xml_node node = add_paragraph(body_, entry.signature ? "Signature1" : "Entry");
    add_run(node, {entry.name + ": " + entry.value});
    if (entry.value.empty())
      node.append_child("w:r").append_child("w:tab");
  }

  void operator()(const TextGap& gap) {
    for (unsigned line = 0; line < gap.lines; ++line)
      add_paragraph(body_, "");
  }

  void operator()(const TextTable& table) {
    pugi::xml_node node = body_.append_child("w:tbl");
    pugi::xml_node properties = node.append_child("w:tblPr");
    add_with_value(properties, "w:tblStyle", "TableGrid");
    add_width(properties, "w:tblW", text_width);
    add_typed(properties, "w:tblLayout", "fixed");
    add_with_value(properties, "w:tblLook", "0420"); // the first row is one of heads
    pugi::xml_node grid = node.append_child("w:tblGrid");
    for (const unsigned width : table.widths)
      put(grid.append_child("w:gridCol"), "w:w", width * text_width / 100);
    add_row(node, table, table.heads, true);
    for (const std::vector<std::string>& row : table.rows)
      add_row(node, table, row, false);
  }

  std::string text() {
    pugi::xml_node section = body_.append_child("w:sectPr");
    pugi::xml_node size = section.append_child("w:pgSz");
    put(size, "w:w", page_width);
    put(size, "w:h", page_height);
    pugi::xml_node margins = section.append_child("w:pgMar");
    put(margins, "w:top", margin_above);
    put(margins, "w:right", margin_beside);
    put(margins, "w:bottom", margin_above);
    put(margins, "w:left", margin_beside);
    for (const char* other : {"w:header", "w:footer"})
      put(margins, other, 567); // 10 mm
    put(margins, "w:gutter", 0);
    return xml_of(document_);
  }

private:
  pugi::xml_node add_paragraph(pugi::xml_node parent, std::string_view style) {
    pugi::xml_node node = parent.append_child("w:p");
    pugi::xml_node properties = node.append_child("w:pPr");
    if (!style.empty())
      add_with_value(properties, "w:pStyle", style);
    if (new_page_)
      properties.append_child("w:pageBreakBefore");
    new_page_ = false;
    return node;
  }

  static void add_run(pugi::xml_node paragraph, const TextRun& run) {
    pugi::xml_node node = paragraph.append_child("w:r");
    if (run.strong) {
      pugi::xml_node properties = node.append_child("w:rPr");
      properties.append_child("w:b");
      properties.append_child("w:bCs");
    }
    pugi::xml_node text = node.append_child("w:t");
    put(text, "xml:space", "preserve");
    text.append_child(pugi::node_pcdata).set_value(without_controls(run.text).c_str());
  }

  static void add_width(pugi::xml_node parent, const char* name, unsigned width) {
    pugi::xml_node node = parent.append_child(name);
    put(node, "w:w", width);
    put(node, "w:type", "dxa");
  }

  static void add_typed(pugi::xml_node parent, const char* name, std::string_view type) {
    put(parent.append_child(name), "w:type", type);
  }

  void add_row(pugi::xml_node node, const TextTable& table, const std::vector<std::string>& cells,
               bool heads) {
    pugi::xml_node row = node.append_child("w:tr");
    pugi::xml_node properties = row.append_child("w:trPr");
    properties.append_child("w:cantSplit");
    if (heads)
      properties.append_child("w:tblHeader");
    for (std::size_t column = 0; column < cells.size(); ++column) {
      pugi::xml_node cell = row.append_child("w:tc");
      pugi::xml_node of_cell = cell.append_child("w:tcPr");
      add_width(of_cell, "w:tcW", table.widths[column] * text_width / 100);
      if (heads) {
        pugi::xml_node shade = add_with_value(of_cell, "w:shd", "clear");
        put(shade, "w:color", "auto");
        put(shade, "w:fill", "EEEEEE");
      }
      add_run(add_paragraph(cell, "Cell"), {cells[column], heads || column == 0});
    }
  }

  pugi::xml_document document_;
  pugi::xml_node body_;
  bool new_page_ = false; ///< What comes next stands at the top of one.
};

std::string core_properties(const std::string& title) {
  pugi::xml_document document;
  pugi::xml_node root = document.append_child("cp:coreProperties");
  put(root, "xmlns:cp", "http://schemas.openxmlformats.org/package/2006/metadata/core-properties");
  put(root, "xmlns:dc", "http://purl.org/dc/elements/1.1/");
  const auto say = [&](const char* name, const std::string& text) {
    root.append_child(name).append_child(pugi::node_pcdata).set_value(text.c_str());
  };
  say("dc:title", without_controls(title));
  say("dc:language", "en-GB");
  return xml_of(document);
}

} // namespace

std::string word_document(const TextDocument& document) {
  WordWriter writer;
  for (const TextPart& part : document.parts) {
    writer.start_part();
    for (const TextBlock& block : part)
      std::visit(writer, block);
  }
  const auto whole = [](std::string_view part) {
    return std::string(xml_head) + std::string(part);
  };
  return zip_bytes({{"[Content_Types].xml", whole(content_types)},
                    {"_rels/.rels", whole(package_relationships)},
                    {"word/document.xml", writer.text()},
                    {"word/_rels/document.xml.rels", whole(document_relationships)},
                    {"word/styles.xml", whole(document_styles)},
                    {"word/settings.xml", whole(settings)},
                    {"docProps/core.xml", core_properties(document.title)}});
}

} // namespace eggfall
