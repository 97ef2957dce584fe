#include "plan/field_sheet_page.hpp"

#include "base/date.hpp"
#include "formats/drawing/html_page.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <vector>

using namespace eggfall;
using support::words_of;

namespace {

std::vector<std::size_t> lines_of(std::size_t lines, std::size_t most) {
  std::vector<std::size_t> sizes;
  for (const FieldSheetPage& page : equal_pages(lines, most))
    sizes.push_back(page.lines);
  return sizes;
}

} // namespace

TEST_CASE("A sheet's pages are equal, and no more than are needed") {
  using Sizes = std::vector<std::size_t>;
  CHECK(lines_of(36, 27) == Sizes{18, 18});
  CHECK(lines_of(18, 18) == Sizes{18});
  CHECK(lines_of(37, 18) == Sizes{12, 12, 13});
  CHECK(lines_of(0, 18).empty());
  for (std::size_t lines = 1; lines <= 150; ++lines)
    for (const std::size_t most : {1U, 6U, 18U}) {
      const std::vector<FieldSheetPage> pages = equal_pages(lines, most);
      REQUIRE(pages.size() == (lines + most - 1) / most);
      std::size_t next = 0;
      for (const FieldSheetPage& page : pages) {
        CHECK(page.first == next);
        CHECK(page.lines <= most);
        CHECK(page.lines >= lines / pages.size());
        CHECK(page.lines <= lines / pages.size() + 1);
        CHECK(page.pages == pages.size());
        next += page.lines;
      }
      CHECK(next == lines);
    }
}

TEST_CASE("A higher key of groups leaves room for fewer lines") {
  CHECK(most_lines(1) == 18);
  CHECK(most_lines(3) == 18);
  CHECK(most_lines(4) < 18);
  CHECK(most_lines(3, 5) == 13);
  for (std::size_t groups = 1; groups < 100; ++groups) {
    CHECK(most_lines(groups + 1) <= most_lines(groups));
    CHECK(most_lines(groups + 1) >= 6);
    CHECK(most_lines(groups, 40) == 6);
  }
}

TEST_CASE("The head of a page says what is known and leaves a line for what is not") {
  const HtmlPage page("t", "");
  FieldSheetQuestion question;
  const pugi::xml_node unknown =
      add_field_sheet_page(page.body(), question, "Yard", {0, 4, 1, 2}, {"By"});
  CHECK(words_of(unknown) == "Yard , page 1 of 2 Farm By ");
  CHECK(unknown.select_nodes(".//div[@class='entries']/span").size() == 2);
  question.farm = "<Invented> farm";
  question.day0 = parse_date("2031-05-12");
  const pugi::xml_node known =
      add_field_sheet_page(page.body(), question, "Yard", {4, 4, 2, 2}, {"By"});
  // 12 May 2031 is a Monday (ISO week date).
  CHECK(words_of(known) == "Yard , page 2 of 2 Farm: <Invented> farm Day 0: Mon 12 May 2031 By ");
  CHECK(known.select_nodes(".//div[@class='entries']/span").size() == 1);
}

TEST_CASE("A page's lines are named by their numbers, and by tags where they are listed") {
  FieldSheets sheets;
  for (std::size_t i = 0; i < 36; ++i)
    sheets.animals.push_back({{std::to_string(701 + i), {}, {}}, 0, {}});
  CHECK(lines_text({18, 18, 2, 2}, sheets) == "Lines 19 to 36");
  CHECK(lines_text({4, 1, 3, 3}, sheets) == "Line 5");
  for (const PlannedAnimal& each : sheets.animals)
    sheets.question.mob.push_back(each.animal);
  CHECK(lines_text({0, 18, 1, 2}, sheets) == "Lines 1 to 18, tags 701 to 718");
  CHECK(lines_text({4, 1, 3, 3}, sheets) == "Line 5, tag 705");
}

TEST_CASE("The foot of the paper names test, farm and day, and no group") {
  FieldSheetQuestion question;
  question.groups.resize(1);
  question.groups[0].name = "hidden";
  question.seed = 7;
  CHECK_THAT(foot_text(question), Catch::StartsWith("Drench test, day 0 ___") &&
                                      Catch::Contains("seed 7") && !Catch::Contains("hidden"));
  question.host = "sheep";
  question.farm = "Invented farm";
  question.day0 = parse_date("2031-05-12");
  CHECK_THAT(foot_text(question),
             Catch::StartsWith("Drench test, sheep, Invented farm, day 0 2031-05-12; eggfall"));
}
