#include "trial/lookalikes.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

namespace {

std::vector<std::string> told(const std::vector<std::string>& names) {
  Lookalikes lookalikes;
  for (const std::string& name : names)
    lookalikes.add(name);
  std::vector<std::string> notes;
  lookalikes.tell("groups", {"t.csv"}, notes);
  return notes;
}

} // namespace

TEST_CASE("Names that look alike are told in pairs, the first three of them") {
  CHECK(told({}).empty());
  CHECK(told({"white", "clear", "white", "whites"}).empty());
  CHECK(told({"white", "clear", "White"}) ==
        std::vector<std::string>{"t.csv: taken as two groups: \"white\" and \"White\""});
  CHECK(told({"a", "A", "b", "B", "c", "C"}) ==
        std::vector<std::string>{"t.csv: taken as two groups: \"a\" and \"A\"; \"b\" and \"B\"; "
                                 "\"c\" and \"C\""});
  CHECK(told({"a", "A", "b", "B", "c", "C", "d", "D", "e", "E"}) ==
        std::vector<std::string>{"t.csv: taken as two groups: \"a\" and \"A\"; \"b\" and \"B\"; "
                                 "\"c\" and \"C\"; and 2 more"});
}
