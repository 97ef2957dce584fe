#include "formats/drawing/paper_form.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("A form to be filled in has a cell for every head") {
  HtmlPage page("t", form_style);
  add_form(page.body(), {"Counts", {"animal", "before", "after"}, {{"401"}, {"402", "12"}, {}}});
  const std::string text = page.text();
  CHECK_THAT(text, Catch::Contains("<table class=\"fill\"><caption>Counts</caption>"));
  CHECK_THAT(text, Catch::Contains("<tr><th scope=\"row\">401</th><td></td><td></td></tr>"
                                   "<tr><th scope=\"row\">402</th><td>12</td><td></td></tr>"
                                   "<tr><td></td><td></td><td></td></tr>"));
}

TEST_CASE("Lines to write on stand after their names") {
  HtmlPage page("t", form_style);
  add_entries(page.body(), {"Name", "Farm & day"});
  CHECK_THAT(page.text(), Catch::Contains("<div class=\"entries\"><span>Name</span>"
                                          "<span>Farm &amp; day</span></div>"));
  // Beside them, so that no word stands where a hand would write.
  CHECK_THAT(page.text(), Catch::Contains(".entries span::after { content: \"\"; flex: 1 0 5.5rem; "
                                          "border-bottom"));
}

TEST_CASE("A step has its blanks after some words, and a question has a line below it") {
  HtmlPage page("t", form_style);
  const pugi::xml_node steps = add_element(page.body(), "ol", "", "steps");
  add_step(steps, "Count the eggs.", {"chamber 1:", "chamber 2:"});
  add_step(steps, "Wash the slide.", {});
  add_question(steps, "Is 3 < 4?");
  CHECK_THAT(page.text(),
             Catch::Contains("<ol class=\"steps\">"
                             "<li>Count the eggs. chamber 1: <span class=\"blank\"></span>"
                             " chamber 2: <span class=\"blank\"></span></li>"
                             "<li>Wash the slide.</li>"
                             "<li>Is 3 &lt; 4?<span class=\"answer-line\"></span></li></ol>"));
}
