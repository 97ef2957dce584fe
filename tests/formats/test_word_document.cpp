#include "formats/word_document.hpp"

#include "formats/zip_archive.hpp"

#include <catch2/catch.hpp>
#include <pugixml.hpp>

#include <set>
#include <string>

// The parts, their names and their relationships are those of ECMA-376 (Part 1: WordprocessingML,
// Part 2: the package), from memory; other programs opened what is written here (docs/report.md).

using namespace eggfall;

namespace {

TextDocument made() {
  TextDocument document;
  document.title = "Tests & \"trials\"";
  const TextTable table{{"Name", "Answer"}, {{"white", "Failing"}, {"clear", "Works"}}, {60, 40}};
  TextPart first;
  first.emplace_back(TextGap{2});
  first.emplace_back(TextEntry{"Date"});
  first.emplace_back(TextEntry{"To", "A farm"});
  first.emplace_back(TextParagraph{TextStyle::title, {{"A title"}}});
  first.emplace_back(table);
  first.emplace_back(TextParagraph{TextStyle::body, {{"Strong: ", true}, {"and not."}}});
  first.emplace_back(TextEntry{"Signature", "", true});
  document.parts = {first, {TextParagraph{TextStyle::heading, {{"Another"}}}}};
  return document;
}

pugi::xml_document part_of(const std::string& file, const std::string& name) {
  const ZipArchive archive(file, "t.docx");
  const auto part = archive.part(name);
  INFO(name);
  REQUIRE(part);
  pugi::xml_document parsed;
  REQUIRE(parsed.load_string(part->c_str(), pugi::parse_full));
  return parsed;
}

std::string text_of(pugi::xml_node node) {
  std::string text;
  for (const pugi::xpath_node& each : node.select_nodes(".//w:t"))
    text += each.node().child_value();
  return text;
}

} // namespace

TEST_CASE("A document has every part that it names, and names every part that it has") {
  const std::string file = word_document(made());
  const ZipArchive archive(file, "t.docx");
  std::set<std::string> named{"[Content_Types].xml"};
  const pugi::xml_document types = part_of(file, "[Content_Types].xml");
  for (const pugi::xpath_node& each : types.select_nodes("//Override")) {
    const std::string name = std::string(each.node().attribute("PartName").value()).substr(1);
    INFO(name);
    CHECK(archive.has(name));
    named.insert(name);
  }
  for (const auto& [part, folder] : {std::pair<const char*, const char*>{"_rels/.rels", ""},
                                     {"word/_rels/document.xml.rels", "word/"}}) {
    named.insert(part);
    const pugi::xml_document relationships = part_of(file, part);
    for (const pugi::xpath_node& each : relationships.select_nodes("//Relationship")) {
      const std::string target = std::string(folder) + each.node().attribute("Target").value();
      INFO(target);
      CHECK(named.contains(target));
    }
  }
  CHECK(named.size() == 7);
  for (const std::string& name : named)
    CHECK_FALSE(part_of(file, name).document_element().empty());
}

TEST_CASE("Every style that a document uses is one that it defines") {
  const std::string file = word_document(made());
  std::set<std::string> defined;
  const pugi::xml_document styles = part_of(file, "word/styles.xml");
  for (const pugi::xpath_node& each : styles.select_nodes("//w:style"))
    defined.insert(each.node().attribute("w:styleId").value());
  const pugi::xml_document document = part_of(file, "word/document.xml");
  const auto used = document.select_nodes("//w:pStyle | //w:tblStyle");
  CHECK(used.size() > 5);
  for (const pugi::xpath_node& each : used)
    CHECK(defined.contains(each.node().attribute("w:val").value()));
  for (const pugi::xpath_node& each : styles.select_nodes("//w:basedOn | //w:next"))
    CHECK(defined.contains(each.node().attribute("w:val").value()));
  CHECK(
      std::string(styles.select_node("//w:rPrDefault//w:lang").node().attribute("w:val").value()) ==
      "en-GB");
}

TEST_CASE("A document is what its blocks say, on paper of A4") {
  const std::string file = word_document(made());
  const pugi::xml_document document = part_of(file, "word/document.xml");
  const pugi::xml_node body = document.document_element().child("w:body");
  CHECK(
      text_of(body) ==
      "Date: To: A farmA titleNameAnswerwhiteFailingclearWorksStrong: and not.Signature: Another");
  // 210 by 297 mm in twentieths of a point: 210/25.4 x 1440 = 11905.5 and 16837.8.
  CHECK(std::string(body.child("w:sectPr").child("w:pgSz").attribute("w:w").value()) == "11906");
  CHECK(std::string(body.child("w:sectPr").child("w:pgSz").attribute("w:h").value()) == "16838");
  // A line where nothing is known, none where something is.
  CHECK(body.select_nodes("w:p[w:pPr/w:pStyle/@w:val='Entry'][w:r/w:tab]").size() == 1);
  CHECK(body.select_nodes("w:p[w:pPr/w:pStyle/@w:val='Entry']").size() == 2);
  CHECK(body.select_nodes("w:p[w:pPr/w:pStyle/@w:val='Signature1'][w:r/w:tab]").size() == 1);
  // The second part alone starts a page.
  REQUIRE(body.select_nodes("//w:pageBreakBefore").size() == 1);
  CHECK(text_of(body.select_node("//w:pageBreakBefore/../..").node()) == "Another");
  // One row of heads; as many cells a row as columns, of their widths; a paragraph in each.
  const pugi::xml_node table = body.child("w:tbl");
  CHECK(table.select_nodes("w:tr").size() == 3);
  REQUIRE(table.select_nodes("w:tr/w:trPr/w:tblHeader").size() == 1);
  CHECK(text_of(table.select_node("w:tr[w:trPr/w:tblHeader]").node()) == "NameAnswer");
  for (const pugi::xpath_node& row : table.select_nodes("w:tr"))
    CHECK(row.node().select_nodes("w:tc/w:p").size() ==
          table.select_nodes("w:tblGrid/w:gridCol").size());
  CHECK(text_of(table.select_node("w:tr[2]/w:tc[1][w:p/w:r/w:rPr/w:b]").node()) == "white");
}

TEST_CASE("What a name holds never steers a document") {
  TextDocument document;
  const std::string name =
      "<w:p/> & \"q\" ]]> \x01\x1F\xE2\x80\xAE \xD7\xA9 " + std::string(200, 'x');
  document.title = name;
  document.parts = {{TextParagraph{TextStyle::body, {{name}}}}};
  const std::string file = word_document(document);
  const pugi::xml_document words = part_of(file, "word/document.xml");
  CHECK(words.select_nodes("//w:p").size() == 1);
  // Controls are blanks, and what turns the direction of writing is gone.
  CHECK_THAT(text_of(words), Catch::StartsWith("<w:p/> & \"q\" ]]>    \xD7\xA9 xxx"));
  CHECK_THAT(part_of(file, "docProps/core.xml").select_node("//dc:title").node().child_value(),
             Catch::StartsWith("<w:p/> & \"q\""));
}

TEST_CASE("A document tells no time and no author, and is the same again") {
  const std::string file = word_document(made());
  CHECK(file == word_document(made()));
  const pugi::xml_document properties = part_of(file, "docProps/core.xml");
  std::set<std::string> told;
  for (const pugi::xml_node& each : properties.document_element().children())
    told.insert(each.name());
  CHECK(told == std::set<std::string>{"dc:title", "dc:language"});
}
