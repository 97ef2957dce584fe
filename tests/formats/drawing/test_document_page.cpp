#include "formats/drawing/document_page.hpp"

#include "support/page_words.hpp"

#include <catch2/catch.hpp>
#include <pugixml.hpp>

#include <string>

using namespace eggfall;

namespace {

pugi::xml_document page_of(const TextDocument& document) {
  pugi::xml_document page;
  REQUIRE(page.load_string(document_page(document).c_str(), pugi::parse_full));
  return page;
}

} // namespace

TEST_CASE("A document's page has a section a part, and its blocks in order") {
  TextPart part;
  part.emplace_back(TextGap{3});
  part.emplace_back(TextEntry{"Date"});
  part.emplace_back(TextEntry{"To", "A farm"});
  part.emplace_back(TextParagraph{TextStyle::title, {{"A title"}}});
  part.emplace_back(TextTable{{"Name", "Answer"}, {{"white", "Failing"}}, {70, 30}});
  part.emplace_back(TextParagraph{TextStyle::heading, {{"A heading"}}});
  part.emplace_back(TextParagraph{TextStyle::body, {{"Strong: ", true}, {"and not."}}});
  part.emplace_back(TextParagraph{TextStyle::note, {{"Small."}}});
  const pugi::xml_document page =
      page_of({"Two parts", {part, {TextEntry{"Signature", "", true}}}});
  CHECK(std::string(page.select_node("/html/head/title").node().child_value()) == "Two parts");
  CHECK(std::string(page.select_node("/html").node().attribute("lang").value()) == "en-GB");
  CHECK(page.select_nodes("//main/section[@class='part']").size() == 2);
  CHECK(support::words_of(page.select_node("//main").node()) ==
        "Date:  To:  A farm A title Name Answer white Failing A heading Strong:  and not. Small. "
        "Signature:  ");
  // A line where nothing is known, none where something is.
  CHECK(page.select_nodes("//p[@class='entry']/span[@class='line']").size() == 1);
  CHECK(page.select_nodes("//p[@class='entry signature']/span[@class='line']").size() == 1);
  CHECK(page.select_nodes("//strong").size() == 1);
  CHECK(page.select_nodes("//p[@class='note']").size() == 1);
  CHECK(page.select_nodes("//table/colgroup/col").size() == 2);
  CHECK(page.select_nodes("//tbody/tr/th[@scope='row']").size() == 1);
}

TEST_CASE("What a name holds never becomes markup of a document's page") {
  const TextRun run{"<script>alert(1)</script> & \"q\"", true};
  const std::string text =
      document_page({"<b>",
                     {{TextParagraph{TextStyle::title, {run}}, TextEntry{"To", "<b>"},
                       TextTable{{"a"}, {{"<i>"}}, {100}}}}});
  for (const char* markup : {"<script", "<b>", "<i>"})
    CHECK(text.find(markup) == std::string::npos);
}
