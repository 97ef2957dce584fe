#include "teach/exercises/exercise_answers_page.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/exercises/invented_exercises.hpp"

#include <pugixml.hpp>

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;
using namespace invented_exercises;

namespace {

pugi::xml_document answers(const DesignExercises& exercises) {
  pugi::xml_document page;
  REQUIRE(page.load_string(exercise_answers_page(pack(), exercises).c_str(),
                           pugi::parse_full & ~pugi::parse_doctype));
  return page;
}

/// The cells of the row of this name in the first table that has this head.
std::vector<std::string> row_of(const DesignExercises& exercises, const std::string& head,
                                const std::string& name) {
  const pugi::xml_document page = answers(exercises);
  const std::string path = "//table[thead/tr/th='" + head + "']/tbody/tr[th='" + name + "']";
  std::vector<std::string> cells;
  for (const pugi::xml_node cell : page.select_node(path.c_str()).node().children("td"))
    cells.emplace_back(cell.text().get());
  return cells;
}

using Cells = std::vector<std::string>;

} // namespace

TEST_CASE("exercise answers: every exercise has its part, and the truth stands above them") {
  const pugi::xml_document page = answers(exercises());
  CHECK(page.select_nodes("//h2").size() == 6);
  CHECK_THAT(support::words_of(page),
             Catch::Contains("The white drench (BZ) removes 93.0% on this farm"));
  CHECK_THAT(support::words_of(page), Catch::Contains("--level 95 --seed 5"));
}

TEST_CASE("exercise answers: shares of many tests are those of their tallies") {
  DesignExercises made = exercises();
  FarmTally& tally = made.group_size.choices.front().many.tally;
  tally.trials = 110;
  tally.without_estimate = 10;
  tally.none_after = 33;
  for (MethodTally& method : tally.methods) {
    const bool by_hand = method.method == Method::log_ratio_1992;
    method.held = by_hand ? 60 : 95;
    method.truth_above = by_hand ? 15 : 5;
    method.truth_below = 0;
    method.unusable = by_hand ? 25 : 0;
    method.width = (by_hand ? 75 * 20U : 100 * 31U) * 1'000'000ULL; // points, in millionths
    method.verdicts.front() = {22, 0, 44, 11, 0, 33};
  }
  // 33 of 110 saw no egg; 60 of the 100 that can be judged held it, 25 of 110 had no limits, a mean
  // width of 20 points; 95 of 100 held it, 31 points; 22 of 110 call it susceptible.
  CHECK(row_of(made, "Called susceptible", "5 animals") ==
        Cells{"30%", "60%", "23%", "20", "95%", "31", "20%"});
}

TEST_CASE(
    "exercise answers: that a drench which falls short is called susceptible is named an error") {
  DesignExercises made = exercises();
  const auto words = [&](double truth) {
    made.truth = truth;
    return support::words_of(answers(made));
  };
  // Of exercises 1 and 2 alike.
  const std::string text = words(0.93);
  const std::string wrong = "every \"susceptible\" of the last column is wrong: ";
  const std::size_t first = text.find(wrong);
  REQUIRE(first != std::string::npos);
  CHECK(text.find(wrong, first + 1) != std::string::npos);
  CHECK(text.find("does not make a lenient rule strict") != std::string::npos);
  // Far below the thresholds narrower limits err less often, and nothing else is said.
  CHECK(words(0.7).find(wrong) != std::string::npos);
  CHECK(words(0.7).find("lenient") == std::string::npos);
  CHECK(words(0.97).find(wrong) == std::string::npos);
}

TEST_CASE("exercise answers: falls once and often stand beside the truth, or are none") {
  DesignExercises made = exercises();
  made.left_out.treated.all = {0.9, 0.931};
  made.left_out.treated.kept = {0.95, 0.9449};
  made.left_out.untreated.all = {std::nullopt, 0.001};
  made.left_out.untreated.kept = {-0.25, 0.3};
  CHECK(row_of(made, "Kept, this test", "Treated") ==
        Cells{"90.0%", "95.0%", "93.1%", "94.5%", "93.0%"});
  CHECK(row_of(made, "Kept, this test", "Untreated") ==
        Cells{"none", "-25.0%", "0.1%", "30.0%", "0.0%"}); // nothing was done to them
}

TEST_CASE("exercise answers: the missed animal's eggs are told of all treated animals'") {
  DesignExercises made = exercises();
  Group& treated = *std::ranges::find(made.missed.test.trial.groups, Role::treated, &Group::role);
  REQUIRE(treated.animals.size() == 10);
  for (Animal& animal : treated.animals)
    animal.after->eggs = EggsSeen(animal.tag == made.missed.tag ? 30 : 2);
  CHECK_THAT(support::words_of(answers(made)),
             Catch::Contains("It was animal " + made.missed.tag + ": 30 of the 48 eggs seen"));
}
