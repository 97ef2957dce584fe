#include "intake/open_question.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

Problem place() {
  return {"t.csv", 4, 2, "EPG", "two things", "never shown"};
}

} // namespace

TEST_CASE("A question is told with the options that answer it, as a shell takes them") {
  const OpenQuestion question(place(),
                              {answer("counts", "epg", "eggs per gram"),
                               answer("cell", "n d=none-seen"),
                               {{{"day-before", "-7"}, {"day-after", "14"}}, "or others of them"}});
  CHECK(std::string(question.what()) ==
        "t.csv:4: column 2 (EPG): found two things; expected an answer: --counts epg (eggs per "
        "gram), --cell \"n d=none-seen\", or --day-before=-7 --day-after 14 (or others of them)");
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

TEST_CASE("A value that a shell would read as more than one word, or as its own, is quoted") {
  for (const char* value : {"a b", "<50=none-seen", "*=none-seen", "?=none-seen", "a;b", "a&b",
                            "#=none-seen", "it's", "(x)"}) {
    const OpenQuestion question(place(), {answer("cell", value)});
    CHECK(std::string(question.what()).ends_with("--cell \"" + std::string(value) + "\""));
  }
}

TEST_CASE("A value with a quote, a dollar or a backquote in it is quoted so that it stays itself") {
  const OpenQuestion question(place(), {answer("column", "animal=Tag \"new\" $x `y`")});
  CHECK(std::string(question.what()).ends_with("--column 'animal=Tag \"new\" $x `y`'"));
  const OpenQuestion with_both(place(), {answer("column", "animal=5' \"x\"")});
  CHECK(std::string(with_both.what()).ends_with("--column 'animal=5'\\'' \"x\"'"));
}
