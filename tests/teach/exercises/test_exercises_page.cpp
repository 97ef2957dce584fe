#include "teach/exercises/exercises_page.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/exercises/invented_exercises.hpp"
#include "trial/trial_lookup.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;
using namespace invented_exercises;

namespace {

pugi::xml_document sheets() {
  pugi::xml_document page;
  REQUIRE(page.load_string(exercises_page(pack(), exercises()).c_str(),
                           pugi::parse_full & ~pugi::parse_doctype));
  return page;
}

/// The rows of the counts on sheet number `number`, from 1.
std::vector<std::vector<std::string>> counts_on(const pugi::xml_document& page, int number) {
  std::vector<std::vector<std::string>> rows;
  const std::string path = fmt::format("//section[@class='sheet'][{}]//tbody/tr", number);
  for (const auto& row : page.select_nodes(path.c_str())) {
    rows.emplace_back();
    for (const pugi::xml_node farm : row.node().children())
      rows.back().emplace_back(farm.text().get());
  }
  return rows;
}

std::string eggs_of(const Animal& animal) {
  return fmt::format("{}", animal.after->eggs.value());
}

} // namespace

TEST_CASE("exercise sheets: there are six, numbered, and none tells the truth") {
  const pugi::xml_document page = sheets();
  const auto sections = page.select_nodes("//section[@class='sheet']");
  REQUIRE(sections.size() == 6);
  for (std::size_t i = 0; i < sections.size(); ++i)
    CHECK_THAT(std::string(sections[i].node().child("h2").text().get()),
               Catch::StartsWith(fmt::format("Exercise {}: ", i + 1)));
  CHECK_THAT(support::words_of(page), !Catch::Contains("93.0%"));
  CHECK_THAT(support::words_of(page), !Catch::Contains("It was animal"));
}

TEST_CASE("exercise sheets: sums of 5, 10 and 20 animals have lines below those animals") {
  const auto rows = counts_on(sheets(), 1);
  const ExerciseTest& whole = exercises().group_size.choices.back().test;
  const Group& treated = group_of(whole.trial, Role::treated);
  const Group& control = group_of(whole.trial, Role::control);
  REQUIRE(rows.size() == 20 + 3);
  // Lines 6, 12 and 23: each is after the animals and the lines for sums above it.
  CHECK(rows[5] == std::vector<std::string>{"Sum of 5", "", "Sum of 5", ""});
  CHECK(rows[11] == std::vector<std::string>{"Sum of 10", "", "Sum of 10", ""});
  CHECK(rows[22] == std::vector<std::string>{"Sum of 20", "", "Sum of 20", ""});
  CHECK(rows[0] == std::vector<std::string>{treated.animals[0].tag, eggs_of(treated.animals[0]),
                                            control.animals[0].tag, eggs_of(control.animals[0])});
  CHECK(rows[6][1] == eggs_of(treated.animals[5]));
  CHECK(rows[21][3] == eggs_of(control.animals[19]));
}

TEST_CASE("exercise sheets: the coarse slide stands left of the fine ones") {
  const auto rows = counts_on(sheets(), 2);
  const auto& choices = exercises().factor.choices;
  REQUIRE(choices.size() == 4);
  // A tag and four counts of a treated animal, and the same of an untreated one.
  REQUIRE(rows.front().size() == 10);
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Trial& trial = choices[i].test.trial;
    CHECK(rows[0][1 + i] == eggs_of(group_of(trial, Role::treated).animals.front()));
    CHECK(rows[0][6 + i] == eggs_of(group_of(trial, Role::control).animals.front()));
  }
  CHECK(rows.back().front() == "Sum");
}

TEST_CASE("exercise sheets: means are worked out from EPG, and logarithms left to the class") {
  const auto rows = counts_on(sheets(), 3);
  const Animal& first = group_of(exercises().means.test.trial, Role::treated).animals.front();
  REQUIRE(rows.front().size() == 6);
  // One egg stands for 50 EPG on this farm.
  CHECK(rows[0][1] == fmt::format("{}", 50 * first.after->eggs.value()));
  for (const auto& row : rows) {
    CHECK(row[2].empty());
    CHECK(row[5].empty());
  }
}

TEST_CASE("exercise sheets: the animal that slipped past the gun stands among the others") {
  const auto rows = counts_on(sheets(), 6);
  const Group& treated = group_of(exercises().missed.test.trial, Role::treated);
  std::size_t found = 0;
  for (const auto& row : rows)
    found += row.front() == exercises().missed.tag ? 1 : 0;
  CHECK(found == 1);
  CHECK(rows.size() == treated.animals.size() + 1); // the sum
}
