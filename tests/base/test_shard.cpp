#include "eggfall/base/shard.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("Shards are complete in any order, once each") {
  CHECK_NOTHROW(check_complete({{1, 1}}));
  CHECK_NOTHROW(check_complete({{3, 3}, {1, 3}, {2, 3}}));
  CHECK(support::input_error([] {
          check_complete({{3, 3}, {1, 3}});
        }) == "part 2/3 is missing; expected all 3 parts");
  CHECK(support::input_error([] {
          check_complete({{3, 3}, {3, 3}, {1, 3}});
        }) == "part 3/3 comes twice; expected each part once");
  CHECK(support::input_error([] {
          check_complete({{1, 2}, {3, 2}});
        }) == "part 3/2; expected parts 1 to 2 of 2");
  CHECK_THROWS_AS(check_complete({{1, 2}, {2, 3}}), InputError);
  CHECK_THROWS_AS(check_complete({}), InputError);
}
