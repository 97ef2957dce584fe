#include "base/problems.hpp"

#include "support/support.hpp"

#include <cstddef>

using namespace eggfall;

namespace {

Problem on_line(std::size_t line) {
  return {"t.csv", line, 0, {}, "two", "one"};
}

} // namespace

TEST_CASE("Problems are told together, in the order they were found") {
  Problems problems;
  CHECK_FALSE(problems.any());
  CHECK_NOTHROW(problems.throw_if_any());
  problems.add(on_line(5));
  problems.add(on_line(2));
  CHECK(problems.any());
  CHECK(support::input_error([&] { problems.throw_if_any(); }) ==
        "t.csv:5: found two; expected one\nt.csv:2: found two; expected one");
}

TEST_CASE("The twentieth problem is the last that is told") {
  Problems problems;
  for (std::size_t line = 1; line < 20; ++line)
    CHECK_NOTHROW(problems.add(on_line(line)));
  try {
    problems.add(on_line(20));
    FAIL("the twentieth problem was taken");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 20);
    CHECK(error.problems().front().line == 1);
    CHECK(error.problems().back().line == 20);
  }
}

TEST_CASE("What is wrong with every row alike is told of the first") {
  Problems problems;
  for (std::size_t line = 2; line < 100; ++line)
    problems.add_once("no factor", on_line(line));
  problems.add_once("no host", on_line(100));
  CHECK(support::input_error([&] { problems.throw_if_any(); }) ==
        "t.csv:2: found two; expected one\nt.csv:100: found two; expected one");
}

TEST_CASE("A problem that ends the reading is told after those before it") {
  Problems problems;
  problems.add(on_line(2));
  CHECK(support::input_error([&] { problems.give_up(on_line(7)); }) ==
        "t.csv:2: found two; expected one\nt.csv:7: found two; expected one");
}
