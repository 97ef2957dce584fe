#include "web/fields.hpp"

#include "support/support.hpp"

#include "eggfall/base/error.hpp"

using namespace eggfall;
using namespace eggfall::web;
using Catch::Matchers::Equals;

namespace {

const Json& given() {
  static const Json json = Json::parse(R"({
    "name": "  Top\tpaddock ", "text": "a = 1\nb = 2\n", "factor": 15.5, "seed": 7,
    "many": [6, 8], "yes": true, "none": null, "words": ["BZ", " LV "], "inner": {"farm": "Far"},
    "list": [{"name": "white"}]})");
  return json;
}

/// What is said when `ask` meets the field.
template <typename Ask> std::string refusal(const char* json, Ask ask) {
  const Json parsed = Json::parse(json);
  try {
    Fields fields(parsed, "bench");
    ask(fields);
  } catch (const InputError& error) {
    return error.what();
  }
  return "nothing is said";
}

} // namespace

TEST_CASE("Fields of a request are read by name and kind") {
  Fields fields(given(), "");
  CHECK(fields.text("name") == "Top paddock");
  CHECK(fields.raw_text("text") == "a = 1\nb = 2\n");
  CHECK(fields.number("factor", 0, 100) == 15.5);
  CHECK(fields.whole("seed", 0, 10) == 7U);
  CHECK(fields.wholes("many", 2, 1000) == std::vector<std::size_t>{6, 8});
  CHECK(fields.numbers("many", 2, 1000) == std::vector<double>{6, 8});
  CHECK(fields.yes("yes"));
  CHECK(fields.texts("words") == std::vector<std::string>{"BZ", "LV"});
  CHECK(fields.object("inner").text("farm") == "Far");
  CHECK(fields.objects("list").at(0).text("name") == "white");
  CHECK_FALSE(fields.has("none"));
  CHECK_FALSE(fields.number("none", 0, 1));
}

TEST_CASE("What is missing is empty") {
  const Json json = Json::object();
  Fields fields(json, "");
  CHECK(fields.text("a").empty());
  CHECK_FALSE(fields.number("a", 0, 1));
  CHECK_FALSE(fields.whole("a", 0, 1));
  CHECK_FALSE(fields.yes("a"));
  CHECK(fields.texts("a").empty());
  CHECK(fields.objects("a").empty());
  CHECK(fields.object("a").text("b").empty());
}

TEST_CASE("A field of another kind or out of range is refused with its place") {
  CHECK_THAT(refusal(R"({"chambers": 0})", [](Fields& f) { f.whole("chambers", 1, 1000); }),
             Equals("bench.chambers: found 0; expected a whole number from 1 to 1000"));
  CHECK_THAT(refusal(R"({"chambers": 1.5})", [](Fields& f) { f.whole("chambers", 1, 1000); }),
             Equals("bench.chambers: found 1.5; expected a whole number from 1 to 1000"));
  CHECK_THAT(refusal(R"({"faecesG": "4"})", [](Fields& f) { f.number("faecesG", 0, 10); }),
             Equals("bench.faecesG: found \"4\"; expected a number from 0 to 10"));
  CHECK_THAT(refusal(R"({"faecesG": -4})", [](Fields& f) { f.number("faecesG", 0, 10); }),
             Equals("bench.faecesG: found -4; expected a number from 0 to 10"));
  CHECK_THAT(refusal(R"({"a": 1})", [](Fields& f) { f.text("a"); }),
             Equals("bench.a: found 1; expected a text"));
  CHECK_THAT(refusal(R"({"a": 1})", [](Fields& f) { f.yes("a"); }),
             Equals("bench.a: found 1; expected true or false"));
  CHECK_THAT(refusal(R"({"a": 1})", [](Fields& f) { f.texts("a"); }),
             Equals("bench.a: found 1; expected a list"));
  CHECK_THAT(refusal(R"({"a": [1]})", [](Fields& f) { f.objects("a"); }),
             Equals("bench.a: found 1; expected an object"));
  CHECK_THAT(refusal("3", [](Fields&) {}), Equals("bench: found 3; expected an object"));
}

TEST_CASE("A name that nobody asked for is refused, so that no misspelt setting is lost") {
  CHECK_THAT(refusal(R"({"factr": 50})",
                     [](Fields& f) {
                       f.number("factor", 0, 100);
                       f.text("host");
                       f.nothing_else();
                     }),
             Equals("bench: found the name \"factr\"; expected \"factor\", \"host\""));
}
