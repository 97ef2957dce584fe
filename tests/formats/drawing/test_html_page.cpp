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
