#include "formats/json_values.hpp"

#include "support/support.hpp"

#include <limits>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

using namespace eggfall;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// The message of what read_json() refuses.
template <typename Read> std::string refused(std::string_view json, Read&& read) {
  return support::input_error(
      [&] { read_json(json, "a.json", "no audit", "a file of audit --json", read); });
}

const auto anything = [](const Json& json) { return json.dump(); };

} // namespace

TEST_CASE("What is missing or not finite is null in JSON") {
  CHECK(or_null(2.5) == Json(2.5));
  CHECK(or_null(infinity).is_null());
  CHECK(or_null(std::numeric_limits<double>::quiet_NaN()).is_null());
  CHECK(or_null(std::optional<double>()).is_null());
  CHECK(or_null(std::optional(-infinity)).is_null());
  CHECK(or_null(std::optional(3)) == Json(3));
  CHECK(or_null(std::optional<std::string>()).is_null());
  CHECK(in_percent(std::optional(0.07)) == Json(7.0));
  CHECK(in_percent(std::optional<double>()).is_null());
  CHECK(in_percent(std::optional(-infinity)).is_null());
}

TEST_CASE("A whole number is neither wrapped round nor cut") {
  CHECK(whole(Json::parse("0"), 10) == 0);
  CHECK(whole(Json::parse("10"), 10) == 10);
  CHECK_THROWS_WITH(whole(Json::parse("11"), 10), "11, not a whole number from 0 to 10");
  CHECK_THROWS_WITH(whole(Json::parse("-1"), 10), "-1, not a whole number from 0 to 10");
  CHECK_THROWS_WITH(whole(Json::parse("2.5"), 10), "2.5, not a whole number from 0 to 10");
  CHECK_THROWS_WITH(whole(Json("3"), 10), "string, not a whole number from 0 to 10");
  CHECK_THROWS_AS(whole(Json(nullptr), 10), std::invalid_argument);
}

TEST_CASE("A level at either end of its range is in it") {
  CHECK(within(Json(0.5), 0.5, 0.999) == 0.5);
  CHECK(within(Json(0.999), 0.5, 0.999) == 0.999);
  CHECK_THROWS_WITH(within(Json(1), 0.5, 0.999), "a level or threshold out of range");
  CHECK_THROWS_AS(within(Json(0.49), 0.5, 0.999), std::invalid_argument);
}

TEST_CASE("A name is refused in its own words if it stands for nothing") {
  const auto parse = [](const std::string& name) {
    return name == "one" ? std::optional(1) : std::nullopt;
  };
  CHECK(named(Json("one"), parse) == 1);
  CHECK_THROWS_AS(named(Json("two"), parse), std::invalid_argument);
  CHECK_THROWS_WITH(named(Json("two"), parse), "the unknown name \"two\"");
}

TEST_CASE("A JSON text is what is read of it") {
  CHECK(read_json("[1, 2]", "a.json", "no audit", "an audit", anything) == "[1,2]");
}

TEST_CASE("A JSON text that cannot be read is refused with the reason") {
  const std::string expected = "; expected a file of audit --json";
  // The fourth byte, "}", closes what was not opened.
  CHECK(refused("[1,}", anything) ==
        "a.json: found no audit (not JSON, from byte 4 on)" + expected);
  CHECK(refused("{\"a\": 1}", [](const Json& json) { return json.at("b").dump(); }) ==
        "a.json: found no audit (a part of it is missing, or not of its kind)" + expected);
  CHECK(refused("\"a\"", [](const Json& json) { return json.get<int>(); }) ==
        "a.json: found no audit (a part of it is missing, or not of its kind)" + expected);
  CHECK(refused("-1", [](const Json& json) { return whole(json, 10); }) ==
        "a.json: found no audit (-1, not a whole number from 0 to 10)" + expected);
  CHECK(refused("1", [](const Json&) -> int { throw InputError("one\ntwo"); }) ==
        "a.json: found no audit (one two)" + expected);
}

TEST_CASE("A mistake of the program is no fault of the JSON text") {
  const auto fail = [](const Json&) -> int { throw CalculationError("no luck"); };
  CHECK_THROWS_AS(read_json("1", "a.json", "no audit", "an audit", fail), CalculationError);
}
