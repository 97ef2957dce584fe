#include "base/quoted_list.hpp"

#include <catch2/catch.hpp>

#include <set>
#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE("Names are quoted, up to so many of them") {
  const std::vector<std::string> names{"A", "B", "C"};
  CHECK(quoted_list(std::vector<std::string>(), 3).empty());
  CHECK(quoted_list(names, 4) == "\"A\", \"B\", \"C\"");
  CHECK(quoted_list(names, 3) == "\"A\", \"B\", \"C\"");
  CHECK(quoted_list(names, 2) == "\"A\", \"B\" and more");
  CHECK(quoted_list(std::set<std::string>{"yellow", "white"}, 2) == "\"white\", \"yellow\"");
}

TEST_CASE("A listed name cannot bring a line break into a message") {
  CHECK(quoted_list(std::vector<std::string>{"two\nlines"}, 1) == "\"two?lines\"");
}
