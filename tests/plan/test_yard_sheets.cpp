#include "plan/yard_sheets.hpp"

#include "base/date.hpp"
#include "formats/drawing/html_page.hpp"
#include "plan/group_sign.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;
using support::words_of;

namespace {

FieldSheetQuestion question_of(std::size_t animals) {
  FieldSheetQuestion question;
  question.host = "sheep";
  question.groups.resize(3);
  question.groups[0].name = "white";
  question.groups[0].classes = {DrugClass::bz};
  question.groups[0].label = LabelDose::by_volume(0.2);
  question.groups[1].name = "keepers";
  question.groups[1].role = Role::control;
  question.groups[2].name = "clear";
  question.groups[2].label = LabelDose::by_volume(0.4);
  question.dose_step_ml = 0.5;
  for (std::size_t i = 0; i < animals; ++i)
    question.mob.push_back(
        {fmt::format("tag{}", i + 1), 20.0 + static_cast<double>(i), std::nullopt});
  return question;
}

FieldSheetQuestion unlisted_question(std::size_t animals_a_group) {
  FieldSheetQuestion question = question_of(0);
  question.unlisted = animals_a_group;
  return question;
}

/// The sheets of one kind, on a page of their own.
struct Made {
  FieldSheets sheets;
  HtmlPage page{"t", yard_style};
  std::vector<pugi::xml_node> pages;
  std::vector<pugi::xml_node> rows; ///< Of all pages.

  Made(const FieldSheetQuestion& question, void (*add)(pugi::xml_node, const FieldSheets&))
      : sheets(field_sheets(question, published_cut_offs())) {
    add(page.body(), sheets);
    for (const auto& section : page.body().select_nodes("./section"))
      pages.push_back(section.node());
    for (const auto& row : page.body().select_nodes(".//tbody/tr"))
      rows.push_back(row.node());
  }

  const PlannedGroup& group_of(std::size_t row) const {
    return sheets.question.groups[sheets.animals[row].group];
  }
};

/// The data of the shape that a line or an entry of the key bears.
std::string shape_in(pugi::xml_node node) {
  const pugi::xml_node svg = node.select_node(".//svg[contains(@class, 'sign')]").node();
  return svg.child("path") ? svg.child("path").attribute("d").value() : svg.child("circle").name();
}

std::string shape_of(const GroupSign& sign) {
  pugi::xml_document document;
  REQUIRE(document.load_string(sign.svg.c_str()));
  const pugi::xml_node svg = document.child("svg");
  return svg.child("path") ? svg.child("path").attribute("d").value() : svg.child("circle").name();
}

/// Without the space that words_of() sets between a dose and its smaller decimals.
std::string dose_in(pugi::xml_node row) {
  std::string text = words_of(row.select_node(".//td[contains(@class, 'dose')]").node());
  std::erase(text, ' ');
  return text;
}

} // namespace

TEST_CASE("Every line bears its group's sign, name and mark") {
  for (const auto& [question, add] : {std::pair{question_of(9), &add_treatment_sheet},
                                      {question_of(9), &add_second_sheet},
                                      {unlisted_question(3), &add_treatment_sheet},
                                      {unlisted_question(3), &add_second_sheet}}) {
    const Made made(question, add);
    const std::vector<GroupSign> signs = group_signs(made.sheets.question.groups);
    REQUIRE(made.rows.size() == 9);
    for (std::size_t i = 0; i < made.rows.size(); ++i) {
      INFO(i);
      const GroupSign& sign = signs[made.sheets.animals[i].group];
      CHECK(shape_in(made.rows[i]) == shape_of(sign));
      const std::string mark = words_of(made.rows[i].select_node("./td[@class='mark']").node());
      CHECK(mark == fmt::format("{}: {} {} ", sign.word(), made.group_of(i).name, sign.mark));
    }
  }
}

TEST_CASE("Doses have the decimals of the gun's steps, all alike") {
  FieldSheetQuestion question = question_of(30);
  const Made made(question, &add_treatment_sheet);
  std::size_t doses = 0;
  for (std::size_t i = 0; i < made.rows.size(); ++i) {
    if (!made.group_of(i).treated())
      continue;
    // 0.2 or 0.4 mL per kg of 20 kg and more, rounded up to half a millilitre; a dose that is a
    // whole number of steps but for its rounding in binary is not rounded up.
    const double rate = made.group_of(i).name == "white" ? 0.2 : 0.4;
    const double dose = std::ceil(rate * (20.0 + static_cast<double>(i)) / 0.5 - 1e-9) * 0.5;
    CHECK(dose_in(made.rows[i]) == fmt::format("{:.1f}", dose));
    ++doses;
  }
  CHECK(doses == 20);
  // The decimals are set apart, to be drawn smaller: 6.0 is not to be read as 60.
  for (const auto& span : made.page.body().select_nodes(".//td[contains(@class, 'dose')]/span"))
    CHECK(std::string_view(span.node().text().get()).starts_with("."));
  question.dose_step_ml = 1;
  const Made whole(question, &add_treatment_sheet);
  for (const pugi::xml_node row : whole.rows)
    CHECK(dose_in(row).find('.') == std::string::npos);
  CHECK(question.dose_decimals() == 0);
  question.dose_step_ml = 0.25;
  CHECK(question.dose_decimals() == 2);
  question.dose_step_ml = 0.1;
  CHECK(question.dose_decimals() == 1);
}

TEST_CASE("An untreated line is hatched and says NO DRENCH, and no other does") {
  for (const FieldSheetQuestion& question : {question_of(30), unlisted_question(10)}) {
    const Made made(question, &add_treatment_sheet);
    std::size_t untreated = 0;
    for (std::size_t i = 0; i < made.rows.size(); ++i) {
      INFO(i);
      const pugi::xml_node row = made.rows[i];
      const std::string words = words_of(row);
      const std::size_t hatched = row.select_nodes(".//svg[contains(@class, 'hatch')]").size();
      const std::size_t edges = row.select_nodes(".//svg[contains(@class, 'edges')]").size();
      // A class of the line, by which hatching is not doubled where two of them meet.
      CHECK((std::string_view(row.attribute("class").value()) == "untreated") !=
            made.group_of(i).treated());
      if (made.group_of(i).treated()) {
        CHECK(words.find("NO DRENCH") == std::string::npos);
        CHECK(hatched + edges == 0);
        continue;
      }
      ++untreated;
      CHECK(words.find("NO DRENCH") != std::string::npos);
      CHECK(hatched == 2);
      // Every other cell of the line.
      CHECK(edges == row.select_nodes("./*").size() - 1);
      // Nothing to write a dose into, and no dose.
      CHECK(row.select_nodes(".//td[contains(@class, 'dose')]").empty());
      unsigned columns = 0;
      for (const pugi::xml_node cell : row.children())
        columns += cell.attribute("colspan").as_uint(1);
      CHECK(columns ==
            made.page.body().select_nodes(".//table[1]/colgroup/col").size() / made.pages.size());
    }
    CHECK(untreated == 10);
  }
}

TEST_CASE("Each page has the key of all signs, and the lines are parted evenly") {
  const FieldSheetQuestion question = question_of(36);
  for (const auto add : {&add_treatment_sheet, &add_second_sheet}) {
    const Made made(question, add);
    REQUIRE(made.pages.size() == 2);
    const std::vector<GroupSign> signs = group_signs(question.groups);
    for (const pugi::xml_node page : made.pages) {
      CHECK(page.select_nodes(".//tbody/tr").size() == 18);
      const auto entries = page.select_nodes("./ul[@class='key']/li");
      REQUIRE(entries.size() == signs.size());
      for (std::size_t i = 0; i < signs.size(); ++i) {
        CHECK(shape_in(entries[i].node()) == shape_of(signs[i]));
        CHECK_THAT(words_of(entries[i].node()),
                   Catch::StartsWith(signs[i].word() + ": " + question.groups[i].name) &&
                       Catch::Contains("mark: " + signs[i].mark));
      }
      CHECK_THAT(words_of(entries[0].node()),
                 Catch::Contains("SQUARE: white (BZ) day 0: drench 0.2 mL per kg"));
      CHECK_THAT(words_of(entries[1].node()), Catch::StartsWith("RING: keepers, NO DRENCH mark:"));
      CHECK_THAT(words_of(entries[2].node()), Catch::StartsWith("TRIANGLE: clear day 0: drench"));
      CHECK_THAT(words_of(page), Catch::Contains("Wear gloves and wash hands") &&
                                     Catch::Contains("withholding period") &&
                                     Catch::Contains("Withholding (withdrawal) period, days") &&
                                     Catch::Contains("The tag decides who an animal is") &&
                                     Catch::Contains("Label each pot with line number and tag") &&
                                     Catch::Contains("veterinarian"));
    }
    CHECK_THAT(words_of(made.pages[0]), Catch::Contains(", page 1 of 2 ") &&
                                            Catch::Contains("Lines 1 to 18, tags tag1 to tag18"));
    CHECK_THAT(words_of(made.pages[1]), Catch::Contains(", page 2 of 2 ") &&
                                            Catch::Contains("Lines 19 to 36, tags tag19 to tag36"));
  }
}

TEST_CASE("The second visit's sheet asks for no dose") {
  const Made made(question_of(9), &add_second_sheet);
  CHECK(made.page.body().select_nodes(".//table//*[contains(@class, 'dose')]").empty());
  CHECK(made.page.body().select_nodes(".//table//*[contains(@class, 'no-drench')]").empty());
  CHECK_THAT(words_of(made.pages[0]), Catch::Contains("Drench none before its sample is taken") &&
                                          Catch::Contains("the control not before the last second "
                                                          "sample"));
}

TEST_CASE("Without a list the groups stand in a random order to read off at the race") {
  const FieldSheetQuestion question = unlisted_question(12);
  const Made made(question, &add_treatment_sheet);
  REQUIRE(made.rows.size() == 36);
  std::set<std::string> orders;
  for (std::size_t block = 0; block < 36; block += 3) {
    std::set<std::string> shapes;
    std::string order;
    for (std::size_t i = block; i < block + 3; ++i) {
      shapes.insert(shape_in(made.rows[i]));
      order += made.group_of(i).name + " ";
    }
    CHECK(shapes.size() == 3); // one of each group
    orders.insert(order);
  }
  CHECK(orders.size() > 1); // and not in turn
  CHECK(std::string_view(made.rows[0].child("th").text().get()) == "1st");
  CHECK(std::string_view(made.rows[11].child("th").text().get()) == "12th");
  CHECK(std::string_view(made.rows[35].child("th").text().get()) == "36th");
  for (const pugi::xml_node row : made.rows)
    CHECK(std::string_view(row.select_node("./td[contains(@class, 'tag')]").node().text().get())
              .empty());
  for (const pugi::xml_node page : made.pages)
    CHECK_THAT(words_of(page), Catch::Contains("How to use it: take the animals as they come") &&
                                   Catch::Contains("Skip no line, swap no animals") &&
                                   Catch::Contains("No dung? Let it go"));
  // One group alone has no order to read off.
  FieldSheetQuestion one = unlisted_question(6);
  one.groups.resize(1);
  CHECK_THAT(words_of(Made(one, &add_treatment_sheet).pages[0]), !Catch::Contains("How to use it"));
}

TEST_CASE("A treated line without a dose leaves room for it") {
  FieldSheetQuestion question = question_of(9);
  question.groups[0].label.reset();
  const Made made(question, &add_treatment_sheet);
  for (std::size_t i = 0; i < made.rows.size(); ++i)
    if (made.group_of(i).name == "white") {
      const auto cell = made.rows[i].select_node(".//td[contains(@class, 'dose')]");
      REQUIRE(cell);
      CHECK(dose_in(made.rows[i]).empty());
    }
  CHECK_THAT(words_of(made.pages[0]), Catch::Contains("day 0: drench, mL by the label"));
}

TEST_CASE("A listed weight has room for today's beside it, and the rate for who has grown") {
  const auto heads = [](const Made& made) {
    std::string all;
    for (const auto& head : made.pages[0].select_nodes(".//thead/tr[last()]/th"))
      all += std::string(head.node().text().get()) + "; ";
    return all;
  };
  FieldSheetQuestion question = question_of(9);
  const Made made(question, &add_treatment_sheet);
  CHECK_THAT(heads(made), Catch::Contains("Listed kg; Today kg; "));
  for (std::size_t i = 0; i < made.rows.size(); ++i) {
    const pugi::xml_node listed = made.rows[i].select_node("./td[@class='weight']").node();
    CHECK(listed.text().as_double() == 20.0 + static_cast<double>(i));
    CHECK(listed.next_sibling("td").text().empty()); // today's, to write
  }
  CHECK_THAT(
      words_of(made.pages[0]),
      Catch::Contains("Another weight today? Give the label's dose for today's weight: SQUARE 0.2 "
                      "mL per kg, TRIANGLE 0.4 mL per kg, rounded up to 0.5 mL."));
  // The group without a rate has no dose that could be too small.
  question.groups[0].label.reset();
  CHECK_THAT(words_of(Made(question, &add_treatment_sheet).pages[0]),
             Catch::Contains("today's weight: TRIANGLE 0.4 mL per kg, rounded"));
  for (ListedAnimal& animal : question.mob)
    animal.weight_kg.reset();
  const Made unweighed(question, &add_treatment_sheet);
  CHECK_THAT(heads(unweighed), Catch::Contains("Today kg") && !Catch::Contains("Listed kg"));
  CHECK_THAT(words_of(unweighed.pages[0]), !Catch::Contains("Another weight today?"));
}

TEST_CASE("The sheet of day 0 says when to sample again, and leaves a line if day 0 moves") {
  const auto entries = [](const FieldSheetQuestion& question) {
    std::string all;
    for (const pugi::xml_node page : Made(question, &add_treatment_sheet).pages)
      all += words_of(page.select_node("./div[@class='entries']").node());
    return all;
  };
  FieldSheetQuestion question = question_of(9);
  question.groups[2].classes = {DrugClass::ml};
  CHECK_THAT(entries(question),
             Catch::Contains("Sample again: day 14, date white and the control also: days 8 to 10, "
                             "date "));
  question.day0 = parse_date("2031-05-12"); // a Monday (ISO week date)
  CHECK_THAT(entries(question),
             Catch::Contains("Sample again: Mon 26 May 2031, or white and the control also: Tue 20 "
                             "to Thu 22 May, or "));
  CHECK_THAT(words_of(Made(question, &add_second_sheet).pages[0]),
             Catch::Contains("On a copy, if you can: white and the control, days 8 to 10"));
  question.groups[2].classes = {DrugClass::bz};
  CHECK_THAT(entries(question),
             Catch::Contains("Sample again: Tue 20 May 2031 to Thu 22 May 2031, or ") &&
                 !Catch::Contains("also"));
}

TEST_CASE("An untreated animal drenched by mistake is to be written down") {
  FieldSheetQuestion question = question_of(9);
  const std::string mistake = "Drenched one with a ring by mistake? Write it under Notes";
  CHECK_THAT(words_of(Made(question, &add_treatment_sheet).pages[0]), Catch::Contains(mistake));
  question.groups.erase(question.groups.begin() + 1);
  CHECK_THAT(words_of(Made(question, &add_treatment_sheet).pages[0]), !Catch::Contains(mistake));
}

TEST_CASE("Columns of the race stand in the order of what is done") {
  const Made made(unlisted_question(3), &add_treatment_sheet);
  std::string heads;
  for (const auto& head : made.pages[0].select_nodes(".//thead/tr[last()]/th"))
    heads += std::string(head.node().text().get()) + "; ";
  CHECK(heads == "Order; Animal's tag; Sample; Today kg; Sign; Dose given, mL; Group; mark, when "
                 "done; Notes; ");
  CHECK_THAT(words_of(made.pages[0]),
             Catch::Contains("Each animal, in this order: write down the tag, sample, weigh, look "
                             "at the sign."));
  // Every page has the strips of both drenches.
  for (const pugi::xml_node page : made.pages)
    CHECK(page.select_nodes("./div[@class='strip']").size() == 2);
}
