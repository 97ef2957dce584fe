#include "base/enum_names.hpp"

#include "eggfall/base/error.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

namespace {

enum class Colour { white, yellow, clear };

constexpr Names<Colour, 2> names{{{Colour::white, "white"}, {Colour::yellow, "yellow"}}};

} // namespace

TEST_CASE("A value has its name, and a name its value") {
  CHECK(name_of(names, Colour::yellow, "a colour") == "yellow");
  CHECK(value_named(names, "white") == Colour::white);
  CHECK(value_named(names, "yellow") == Colour::yellow);
}

TEST_CASE("A name is known as it is written alone") {
  CHECK_FALSE(value_named(names, "White"));
  CHECK_FALSE(value_named(names, "whit"));
  CHECK_FALSE(value_named(names, ""));
}

TEST_CASE("A value without a name is a mistake of the program") {
  CHECK_THROWS_AS(name_of(names, Colour::clear, "a colour"), CalculationError);
  CHECK_THROWS_WITH(name_of(names, Colour::clear, "a colour"), "a colour without a name");
}
