#include "plan/dose_strip.hpp"

#include "formats/drawing/html_page.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"

#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;
using support::words_of;

namespace {

FieldSheetQuestion unlisted_of(std::string_view host) {
  FieldSheetQuestion question;
  question.host = host;
  question.groups.resize(3);
  question.groups[0].name = "white";
  question.groups[0].label = LabelDose::by_volume(0.21);
  question.groups[1].name = "keepers";
  question.groups[1].role = Role::control;
  question.groups[2].name = "clear";
  question.dose_step_ml = 0.5;
  question.unlisted = 3;
  return question;
}

struct Strips {
  HtmlPage page{"t", dose_strip_style};
  std::vector<pugi::xml_node> each;

  explicit Strips(const FieldSheetQuestion& question) {
    add_dose_strips(page.body(), field_sheets(question, published_cut_offs()));
    for (const auto& strip : page.body().select_nodes("./div[@class='strip']"))
      each.push_back(strip.node());
  }
};

std::vector<std::string> cells_of(pugi::xml_node strip) {
  std::vector<std::string> cells;
  for (const auto& cell : strip.select_nodes("./ul/li"))
    cells.push_back(words_of(cell.node()));
  return cells;
}

} // namespace

TEST_CASE("Weights of a strip suit the host") {
  for (const char* host : {"sheep", "goats"}) {
    const std::vector<int> weights = strip_weights(host);
    CHECK(weights.front() == 10);
    CHECK(weights.at(1) == 15);
    CHECK(weights.back() == 90);
  }
  CHECK(strip_weights("cattle").front() == 100);
  CHECK(strip_weights("cattle").at(1) == 150);
  CHECK(strip_weights("cattle").back() == 700);
  for (const char* host : {"horses", "pigs", ""})
    CHECK(strip_weights(host).empty());
}

TEST_CASE("A strip has the label's doses rounded up, or blanks where no rate is known") {
  const Strips strips(unlisted_of("sheep"));
  REQUIRE(strips.each.size() == 2); // none of the control
  const std::vector<std::string> white = cells_of(strips.each[0]);
  REQUIRE(white.size() == 17);
  // 0.21 mL per kg: 2.1, 3.15, 4.2, ..., 18.9 mL, up to the next half.
  CHECK(white[0] == "10 kg 2.5 ");
  CHECK(white[1] == "15 kg 3.5 ");
  CHECK(white[2] == "20 kg 4.5 ");
  CHECK(white[16] == "90 kg 19.0 ");
  CHECK_THAT(words_of(strips.each[0]), Catch::Contains("SQUARE: white , mL at 0.21 mL per kg"));
  const std::vector<std::string> clear = cells_of(strips.each[1]);
  REQUIRE(clear.size() == 17);
  CHECK(clear[0] == "10 kg ");
  CHECK(clear[16] == "90 kg ");
  CHECK_THAT(words_of(strips.each[1]), Catch::Contains("TRIANGLE: clear , mL by the label"));
  CHECK_THAT(words_of(strips.page.body()),
             Catch::Contains("rounded up to 0.5 mL") &&
                 Catch::Contains("with the veterinarian, from the label"));
}

TEST_CASE("Where all rates are known and weights suit the host nothing is to be filled in") {
  FieldSheetQuestion question = unlisted_of("cattle");
  question.groups.pop_back();
  const Strips strips(question);
  REQUIRE(strips.each.size() == 1);
  CHECK(cells_of(strips.each[0]).at(2) == "200 kg 42.0 ");
  CHECK_THAT(words_of(strips.page.body()), !Catch::Contains("veterinarian"));
}

TEST_CASE("Of other hosts the weights are blank too") {
  const Strips strips(unlisted_of("horses"));
  REQUIRE(strips.each.size() == 2);
  for (const pugi::xml_node strip : strips.each) {
    const std::vector<std::string> cells = cells_of(strip);
    CHECK(cells.size() >= 10);
    for (const std::string& cell : cells)
      CHECK(cell == "kg ");
  }
}

TEST_CASE("Only groups whose lines lack a dose have a strip") {
  FieldSheetQuestion question = unlisted_of("sheep");
  question.unlisted = 0;
  for (int i = 0; i < 9; ++i)
    question.mob.push_back({std::to_string(i), 30, {}});
  CHECK(groups_without_dose(field_sheets(question, published_cut_offs())) ==
        std::vector<std::size_t>{2}); // without a rate
  question.groups[2].label = LabelDose::by_volume(0.2);
  CHECK(Strips(question).each.empty());
  CHECK(words_of(Strips(question).page.body()).empty());
  for (ListedAnimal& animal : question.mob)
    animal.weight_kg.reset();
  CHECK(groups_without_dose(field_sheets(question, published_cut_offs())) ==
        std::vector<std::size_t>{0, 2});
}

TEST_CASE("A strip has a dash for a weight that the steps of the gun would overdose") {
  FieldSheetQuestion question = unlisted_of("sheep");
  question.dose_step_ml = 5;
  const Strips strips(question);
  const std::vector<std::string> white = cells_of(strips.each.at(0));
  // 2.1, 3.15 mL become 5, 1.5 times and more; 4.2 becomes 5, and 5.25 becomes 10.
  CHECK(white.at(0) == "10 kg \u2013 ");
  CHECK(white.at(1) == "15 kg \u2013 ");
  CHECK(white.at(2) == "20 kg 5 ");
  CHECK(white.at(3) == "25 kg \u2013 ");
  CHECK_THAT(words_of(strips.page.body()), Catch::Contains("A dash: no dose"));
  const Strips fine(unlisted_of("sheep"));
  CHECK_THAT(words_of(fine.page.body()), !Catch::Contains("A dash"));
}

TEST_CASE("Weights that a host can have are from half to twice those of the strip") {
  CHECK(possible_weights("sheep")->least == 5);
  CHECK(possible_weights("sheep")->most == 180);
  CHECK(possible_weights("cattle")->least == 50);
  CHECK(possible_weights("cattle")->most == 1400);
  CHECK_FALSE(possible_weights("horses"));
}
