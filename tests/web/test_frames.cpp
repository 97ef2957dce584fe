#include "web/frames.hpp"

#include "support/support.hpp"

#include "eggfall/base/error.hpp"

using namespace eggfall;
using namespace eggfall::web;

TEST_CASE("What passes to the engine and back comes out as it went in") {
  const std::string zeros("\0\xFF\n", 3);
  for (const Frames& frames :
       {Frames{"{}", {}}, Frames{"", {""}}, Frames{"{\"a\": 1}", {"bytes", zeros, ""}}}) {
    CAPTURE(frames.json);
    CHECK(unframed(framed(frames)) == frames);
  }
}

TEST_CASE("Lengths are 32-bit numbers, the lowest byte first, before the texts") {
  const std::string expected = std::string("\2\0\0\0\3\0\0\0\1\0\0\0", 12) + "abc" + "x";
  CHECK(framed({"abc", {"x"}}) == expected);
}

TEST_CASE("Bytes that are no request are refused, cut at any place") {
  const std::string whole = framed({"{\"request\": \"choices\"}", {"file"}});
  for (std::size_t size = 0; size < whole.size(); ++size) {
    CAPTURE(size);
    CHECK_THROWS_AS(unframed(whole.substr(0, size)), InputError);
  }
  CHECK_THROWS_AS(unframed(whole + "more"), InputError);
  // More texts than there are bytes: no memory is asked for before that is seen.
  CHECK_THROWS_AS(unframed(std::string("\xFF\xFF\xFF\xFF", 4)), InputError);
  CHECK_THROWS_AS(unframed(std::string("\1\0\0\0\xFF\xFF\xFF\xFF", 8)), InputError);
}
