#include "formats/drawing/html_page.hpp"

#include "support/support.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

TEST_CASE("An HTML page escapes what users give, and closes what HTML asks to be closed") {
  HtmlPage page("a <b> & \"c\"", "p { color: #000000; }");
  add_element(page.body(), "p", "<script>alert('x')</script> & more", "note");
  add_element(page.body(), "div");
  add_element(page.body(), "br");
  add_table(page.body(), {"what <i>", {"one", "two"}, {{"<row>", ""}}});
  const std::string text = page.text();
  CHECK_THAT(text, Catch::StartsWith("<!DOCTYPE html>\n<html lang=\"en\"><head>"));
  CHECK_THAT(text, Catch::Contains("<title>a &lt;b&gt; &amp; \"c\"</title>"));
  CHECK_THAT(text,
             Catch::Contains("<p class=\"note\">&lt;script&gt;alert('x')&lt;/script&gt; &amp; "
                             "more</p>"));
  CHECK_THAT(text, Catch::Contains("<div></div>") && Catch::Contains("<br/>"));
  CHECK_THAT(text, Catch::Contains("<caption>what &lt;i&gt;</caption>") &&
                       Catch::Contains("<th scope=\"col\">one</th>") &&
                       Catch::Contains("<th scope=\"row\">&lt;row&gt;</th><td></td>"));
  CHECK_THAT(text, !Catch::Contains("<script"));
  CHECK_THROWS_AS(HtmlPage("t", "a > b { }"), CalculationError);
}

TEST_CASE("An SVG stands in the page as it is, and what is none is refused") {
  HtmlPage page("t", "");
  add_svg(page.body(), "<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 0\"/></svg>");
  CHECK_THAT(page.text(), Catch::Contains("<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 "
                                          "0\"/></svg>"));
  CHECK_THROWS_AS(add_svg(page.body(), "no drawing"), CalculationError);
}

TEST_CASE("A script stands in the page as it is, and what would end it is refused") {
  HtmlPage page("t", "");
  add_element(page.body(), "p", "</body>");
  page.add_script("if (1 < 2 && 3 > 2) { one(); }\n");
  page.add_script("two();\n");
  CHECK_THAT(page.text(), Catch::EndsWith("<p>&lt;/body&gt;</p>"
                                          "<script>\nif (1 < 2 && 3 > 2) { one(); }\n</script>"
                                          "<script>\ntwo();\n</script></body></html>\n"));
  CHECK_THROWS_AS(page.add_script("write('</script>')"), CalculationError);
  CHECK_THROWS_AS(page.add_script("write('</SCRIPT >')"), CalculationError);
  CHECK_THROWS_AS(page.add_script("write('<!-- x')"), CalculationError);
}

TEST_CASE("A table of many columns holds its heads in its cells, for a phone") {
  HtmlPage page("Eggs", "");
  const HtmlTable wide{"Falls", {"Group", "a", "b", "c", "d"}, {{"white", "1", "2", "", "4"}}};
  const pugi::xml_node table = add_wide_table(page.body(), wide, "words");
  CHECK(std::string(table.attribute("class").value()) == "words blocks");
  const pugi::xml_node row = table.child("tbody").child("tr");
  CHECK(row.child("th").attribute("data-head").empty());
  std::string heads;
  for (const pugi::xml_node cell : row.children("td"))
    heads += cell.attribute("data-head").value();
  CHECK(heads == "abcd");
  CHECK(add_wide_table(page.body(), wide, "fill").select_nodes(".//@data-head").empty());
  const HtmlTable narrow{"Falls", {"Group", "a", "b", "c"}, {{"white", "1", "2", ""}}};
  CHECK(add_wide_table(page.body(), narrow).select_nodes(".//@data-head").empty());
}

TEST_CASE("A picture keeps its colours on a page, a drawing in inks takes the page's") {
  const std::string svg =
      "<svg viewBox='0 0 9 9'><g stroke='#14506b'><rect fill='#123456'/></g></svg>";
  HtmlPage page("Eggs", "");
  add_svg(page.body(), svg);
  add_inked_svg(page.body(), svg);
  const pugi::xml_node picture = page.body().first_child();
  CHECK(std::string(picture.child("g").attribute("stroke").value()) == "#14506b");
  const pugi::xml_node drawing = picture.next_sibling();
  CHECK(std::string(drawing.child("g").attribute("stroke").value()) == "var(--deep)");
  CHECK(std::string(drawing.child("g").child("rect").attribute("fill").value()) == "#123456");
}

TEST_CASE("The foot of a page of paper holds any text without ending its string or the style") {
  const std::string css = paper_foot("A \"b\" \\ </style>");
  CHECK(css.find("content: \"A \\22 b\\22  \\5c  \\3c /style\\3e \"") != std::string::npos);
  CHECK(css.find("counter(page)") != std::string::npos);
  CHECK_NOTHROW(HtmlPage("Eggs", css));
}
