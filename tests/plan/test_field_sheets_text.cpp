#include "plan/field_sheets_text.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;
using support::words_of;

namespace {

FieldSheetQuestion question() {
  FieldSheetQuestion asked;
  asked.host = "sheep";
  asked.groups.resize(2);
  asked.groups[0].name = "<white> & \"old\"";
  asked.groups[0].classes = {DrugClass::bz};
  asked.groups[0].label = LabelDose::by_volume(0.2);
  asked.groups[1].name = "keepers";
  asked.groups[1].role = Role::control;
  asked.mob = {{"<b>1</b>", 30, {}}, {"2", 31, {}}, {"3", 32, {}}, {"4", 33, {}}};
  asked.day0 = parse_date("2031-05-12");
  return asked;
}

pugi::xml_document page_of(const FieldSheetQuestion& asked) {
  pugi::xml_document page;
  const std::string text = field_sheets_page(field_sheets(asked, published_cut_offs()));
  REQUIRE(page.load_string(text.c_str(), pugi::parse_full));
  return page;
}

pugi::xml_node section(const pugi::xml_document& page, std::string_view heading) {
  for (const auto& found : page.select_nodes("//section"))
    if (std::string_view(found.node().child("h2").text().get()) == heading)
      return found.node();
  FAIL("no section " << heading);
  return {};
}

std::size_t rows_in(pugi::xml_node of_section) {
  return of_section.select_nodes(".//tbody/tr").size();
}

} // namespace

TEST_CASE("Every animal has a line on each of the four sheets") {
  const pugi::xml_document page = page_of(question());
  for (const char* heading :
       {"Yard sheet: day of treatment", "Yard sheet: second sample",
        "Bench sheet: samples before treatment", "Bench sheet: samples after treatment"}) {
    INFO(heading);
    CHECK(rows_in(section(page, heading)) == 4);
    // A name for the table, on screen readers and on every page of paper that it goes on to.
    CHECK(section(page, heading).select_node(".//thead//th[@class='running']"));
    CHECK(section(page, heading)
              .select_node(".//div[@role='group'][string-length(@aria-label) > 0]"));
    CHECK_THAT(words_of(section(page, heading)), Catch::Contains("<b>1</b>"));
  }
}

TEST_CASE("The yard sheet names group and dose, and who counts does not learn the group") {
  const pugi::xml_document page = page_of(question());
  const std::string yard = words_of(section(page, "Yard sheet: day of treatment"));
  CHECK_THAT(yard, Catch::Contains("<white> & \"old\"") && Catch::Contains("keepers"));
  for (const char* heading :
       {"Bench sheet: samples before treatment", "Bench sheet: samples after treatment"}) {
    const std::string bench = words_of(section(page, heading));
    CHECK_THAT(bench, !Catch::Contains("white") && !Catch::Contains("keepers"));
    // Nor the group's sign or mark.
    CHECK(section(page, heading).select_nodes(".//svg").empty());
    for (const char* sign : {"square", "ring", "stripe", "spot", "DRENCH"})
      CHECK_THAT(bench, !Catch::Contains(sign));
  }
  // 0.2 mL per kg: 6.0, 6.2, 6.4 or 6.6 mL for the two treated.
  std::size_t doses = 0;
  std::size_t none = 0;
  for (const auto& row :
       section(page, "Yard sheet: day of treatment").select_nodes(".//tbody/tr")) {
    const std::string dose =
        words_of(row.node().select_node(".//td[contains(@class, 'amount')]").node());
    doses += dose == "6 .0 " || dose == "6 .2 " || dose == "6 .4 " || dose == "6 .6 " ? 1 : 0;
    none += dose == "NO DRENCH " ? 1 : 0;
  }
  CHECK(doses == 2);
  CHECK(none == 2);
}

TEST_CASE("Bench sheets of animals that are not listed do not tell the order of the groups") {
  FieldSheetQuestion asked = question();
  asked.mob.clear();
  asked.unlisted = 4;
  asked.seed = 1;
  const std::string one =
      words_of(section(page_of(asked), "Bench sheet: samples before treatment"));
  asked.seed = 2;
  CHECK(one == words_of(section(page_of(asked), "Bench sheet: samples before treatment")));
}

TEST_CASE("Kit and first page show each group by its sign, and the foot of the paper none") {
  FieldSheetQuestion asked = question();
  asked.farm = "Invented farm";
  const pugi::xml_document page = page_of(asked);
  CHECK(page.select_nodes("//div[@class='front']/ul[@class='key']/li").size() == 2);
  CHECK(page.select_nodes("//table[contains(@class, 'groups')]//tbody/tr/th/svg").size() == 2);
  CHECK(page.select_nodes("//ul[@class='kit']//svg").size() == 1); // of the one drench
  CHECK_THAT(words_of(page.select_node("//ul[@class='kit']").node()),
             Catch::Contains("square: BZ for <white> & \"old\", 12.") &&
                 Catch::Contains("a gun, applicator or syringe of its own"));
  CHECK_THAT(words_of(page),
             Catch::Contains("Mark last") && Catch::Contains("Farm: Invented farm"));
  const std::string style = page.select_node("//style").node().text().get();
  CHECK_THAT(style, Catch::Contains("Drench test, sheep, Invented farm, day 0 2031-05-12") &&
                        Catch::Contains("counter(pages)"));
}

TEST_CASE("The table of groups leaves out what is known of none") {
  FieldSheetQuestion asked = question();
  const auto heads = [&] {
    std::vector<std::string> words;
    const pugi::xml_document page = page_of(asked); // which its nodes must not outlive
    for (const auto& head : page.select_nodes("//table[contains(@class, 'groups')]/thead/tr/th"))
      words.emplace_back(head.node().text().get());
    return words;
  };
  using Heads = std::vector<std::string>;
  CHECK(heads() == Heads{"Group", "Treatment", "Label's dose", "Animals", "Mean weight, kg",
                         "Lightest to heaviest", "Drench for all, mL"});
  asked.mob.clear();
  asked.unlisted = 4;
  CHECK(heads() == Heads{"Group", "Treatment", "Label's dose", "Animals"});
}

TEST_CASE("A bench sheet has a column a chamber as far as the paper goes, and one a kind") {
  FieldSheetQuestion asked = question();
  const auto heads = [&](const char* heading) {
    const pugi::xml_document page = page_of(asked);
    std::vector<std::string> words;
    for (const auto& head : section(page, heading).select_nodes(".//thead/tr[last()]/th"))
      words.emplace_back(head.node().text().get());
    return words;
  };
  using Heads = std::vector<std::string>;
  asked.bench = FieldSheetBench{{3, {}, 45, 2, 0.5}, 9};
  CHECK(heads("Bench sheet: samples before treatment") ==
        Heads{"Line", "Animal", "Faeces, g", "Chamber 1", "Chamber 2", "Eggs in all", "Notes"});
  CHECK(heads("Bench sheet: samples after treatment") ==
        Heads{"Line", "Animal", "Faeces, g", "Eggs in all", "Notes"});
  asked.told_apart = {"nematodirus"};
  CHECK(heads("Bench sheet: samples before treatment") ==
        Heads{"Line", "Animal", "Faeces, g", "Other eggs, in all", "Nematodirus, in all", "Notes"});
  const pugi::xml_document page = page_of(asked);
  CHECK_THAT(words_of(section(page, "Bench sheet: samples before treatment")),
             Catch::Contains("one egg in all stands for 15 EPG"));
}

TEST_CASE("The first page says what to do when, and warns") {
  const std::string words = words_of(page_of(question()));
  for (const char* part :
       {"Day 0: Mon 12 May 2031", "Days 8 to 10: Tue 20 May 2031 to Thu 22 May", "gloves",
        "withholding period", "veterinarian registered",
        "from memory: check against the published guideline", "Look after the control",
        "after the last second sample, not before", "line number, tag and date on each pot"}) {
    INFO(part);
    CHECK_THAT(words, Catch::Contains(part));
  }
}

TEST_CASE("The text of the sheets fits 80 columns and tells balance, drench and days") {
  FieldSheetQuestion asked = question();
  asked.groups[0].name = "white";
  asked.mob = {{"1", 30, {}}, {"2", 30, {}}, {"3", 30, {}}, {"4", 30, {}}};
  const std::string text = field_sheets_text(field_sheets(asked, published_cut_offs()));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(character_count(line) <= 80);
  }
  // Two animals of 30 kg a group; at 0.2 mL per kg 6 mL each.
  CHECK_THAT(text, Catch::Contains("      2     30.0      30 - 30        -\n"));
  CHECK_THAT(text, Catch::Contains("Drench for white: 12 mL for 2 animals weighed, at 0.2 mL per "
                                   "kg; have some to"));
  CHECK_THAT(text, !Catch::Contains("Drench for keepers"));
  CHECK_THAT(text, Catch::Contains("Second sample: Days 8 to 10: Tue 20 May 2031"));
  CHECK_THAT(text, Catch::Contains("square for white, stripe across\nthe rump; ring for keepers, "
                                   "spot on the back."));
}

TEST_CASE("The text of the sheets leaves out what nobody weighed") {
  FieldSheetQuestion asked = question();
  asked.mob.clear();
  asked.unlisted = 10;
  const std::string text = field_sheets_text(field_sheets(asked, published_cut_offs()));
  CHECK_THAT(text, Catch::Contains("     10        -            -        -\n"));
  CHECK_THAT(text, !Catch::Contains("Drench for"));
}
