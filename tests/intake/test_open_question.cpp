#include "intake/open_question.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

Problem place() {
  return {"t.csv", 4, 2, "EPG", "two things", "never shown"};
}

} // namespace

TEST_CASE("A question is told with the settings that answer it") {
  const OpenQuestion question(place(),
                              {answer("counts", "epg", "eggs per gram"),
                               answer("cell", "n d=none-seen"),
                               {{{"day-before", "-7"}, {"day-after", "14"}}, "or others of them"}});
  CHECK(std::string(question.what()) ==
        "t.csv:4: column 2 (EPG): found two things; expected an answer: the setting counts epg "
        "(eggs per gram), the setting cell \"n d=none-seen\", or the setting day-before -7 and the "
        "setting day-after 14 (or others of them)");
}

TEST_CASE("A question keeps its answers for whoever asks it in another way") {
  const OpenQuestion question(
      place(), {answer("dates", "day-first", "3 May"), answer("dates", "month-first", "5 March")});
  REQUIRE(question.answers().size() == 2);
  CHECK(question.answers()[1].settings[0].key == "dates");
  CHECK(question.answers()[1].settings[0].value == "month-first");
  CHECK(question.answers()[1].means == "5 March");
  CHECK(question.problems().size() == 1);
  CHECK(question.problems()[0].line == 4);
}

TEST_CASE("An answer by a key of no setting is a fault of ours") {
  CHECK_THROWS_AS(OpenQuestion(place(), {answer("colour", "white")}), CalculationError);
  CHECK(mention_of({"day-before", "-7"}).setting == Setting::day_before);
}
