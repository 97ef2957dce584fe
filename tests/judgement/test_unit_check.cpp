#include "judgement/unit_check.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

std::optional<UnitDoubt> doubt(const std::vector<std::uint32_t>& before,
                               const std::vector<std::uint32_t>& after) {
  return doubt_units(support::group("w", before, after, 50, 50));
}

} // namespace

TEST_CASE("Counts that all share a divisor look like EPG") {
  // 18 eggs, typed as EPG at a factor of 50.
  const auto typed = doubt({200, 150, 0, 300, 250}, {0, 0, 0, 0, 0});
  REQUIRE(typed);
  CHECK(typed->kind == UnitDoubt::Kind::epg_as_eggs);
  CHECK(typed->divisor == 50);
  CHECK(typed->counts == 4);
  CHECK(doubt({100, 50}, {0, 0})); // 50^-2 = 0.0004
  CHECK_FALSE(doubt({14, 3, 22, 9}, {0, 0, 1, 0}));
  CHECK_FALSE(doubt({14, 4, 22, 8, 6, 2, 10, 12, 16}, {}));   // 2^-9 = 0.002
  CHECK(doubt({14, 4, 22, 8, 6, 2, 10, 12, 16, 18}, {}));     // 2^-10 = 0.00098
  CHECK_FALSE(doubt({500}, {0}));                             // one count is 1/500
  CHECK_FALSE(doubt({1000}, {0}));                            // 1/1000 is the chance allowed
  CHECK_FALSE(doubt(std::vector<std::uint32_t>(15, 40), {})); // equal counts tell it once
  CHECK_FALSE(doubt({0, 0}, {0, 0}));
}

TEST_CASE("EPG at a factor in thirds, rounded or cut to whole numbers, look like EPG too") {
  // 50, 70, 31, 8 and 20 eggs at 33.333 EPG each: 1,666.67, 2,333.33, 1,033.33, 266.67, 666.67.
  const auto rounded = doubt({1667, 2333, 1033, 267, 667}, {3, 0, 1, 0, 0});
  REQUIRE(rounded);
  CHECK(rounded->kind == UnitDoubt::Kind::epg_as_eggs);
  CHECK_THAT(rounded->divisor, support::close_to(100.0 / 3));
  CHECK(divisor_text(*rounded) == "33.333");
  CHECK(doubt({1666, 2333, 1033, 266, 666}, {3, 0, 1, 0, 0})); // cut
  CHECK(doubt({183, 117, 67, 233}, {2, 0, 1, 0}));             // 11, 7, 4 and 14 at 16.667
  CHECK(doubt({467, 267, 1133}, {2, 0, 1}));                   // 7, 4 and 17 at 66.667
  const auto two = doubt({467, 267}, {});                      // 50^-2 = 0.0004
  REQUIRE(two);
  CHECK_THAT(two->divisor, support::close_to(200.0 / 3));
  CHECK_FALSE(doubt({1665, 2333, 1033, 267, 667}, {3, 0, 1, 0, 0}));
  CHECK_FALSE(doubt({67, 33}, {0, 1}));        // 25^-2 = 0.0016
  CHECK(doubt({67, 33, 133}, {0, 1, 1}));      // 25^-3 = 0.00006
  CHECK_FALSE(doubt({50, 17, 34}, {1, 0, 2})); // 34 is no multiple made whole
  CHECK(divisor_text({UnitDoubt::Kind::epg_as_eggs, 4, 50, {}}) == "50");
}

TEST_CASE("Repeated counts are looked at one by one, not as their sum") {
  Group group = support::group("w", {10, 20, 30, 40, 50}, {0, 0, 0, 0, 0});
  CHECK(doubt_units(group));
  for (Animal& animal : group.animals) {
    const std::uint32_t eggs = animal.before->eggs.value();
    animal.repeats_before = {{EggsSeen(eggs / 2 + 1), MultiplicationFactor(1)},
                             {EggsSeen(eggs / 2 - 1), MultiplicationFactor(1)}};
  }
  CHECK_FALSE(doubt_units(group));
}

TEST_CASE("Five times as many eggs after as before look swapped") {
  const auto swapped = doubt({0, 1, 3, 2, 1}, {14, 31, 22, 9, 41});
  REQUIRE(swapped);
  CHECK(swapped->kind == UnitDoubt::Kind::swapped);
  CHECK_THAT(*swapped->rise, support::close_to(117.0 / 7));
  CHECK_FALSE(doubt({14, 31, 22, 9, 41}, {0, 1, 3, 2, 1}));
  CHECK_FALSE(doubt({14, 31, 22, 9, 41}, {50, 111, 90, 37, 140})); // a season can do that
  CHECK_FALSE(doubt({0, 1, 0}, {3, 4, 2}));                        // luck can
}

TEST_CASE(
    "A rise is looked at from twenty eggs after treatment and from five times those before on") {
  const auto swapped = [](const std::vector<std::uint32_t>& before,
                          const std::vector<std::uint32_t>& after) {
    return doubt_units(support::group("w", before, after)).has_value();
  };
  CHECK(swapped({1, 0, 0, 0}, {11, 4, 3, 2})); // one egg, and twenty
  CHECK_FALSE(swapped({1, 0, 0, 0}, {11, 4, 3, 1}));
  CHECK(swapped({2, 3, 0, 0}, {17, 3, 4, 1})); // 5 and 25
  CHECK_FALSE(swapped({2, 3, 0, 0}, {17, 3, 3, 1}));
  CHECK_FALSE(swapped({0, 0, 0, 0}, {17, 3, 4, 1})); // nothing to rise from
}
