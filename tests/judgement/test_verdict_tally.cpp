#include "eggfall/judgement/verdict_tally.hpp"

#include "support/support.hpp"

#include <cstddef>
#include <cstdint>

using namespace eggfall;

TEST_CASE("Tallies add class by class, in any order") {
  const VerdictTally first{1, 2, 3, 4, 5, 6};
  const VerdictTally second{10, 0, 0, 40, 0, 60};
  VerdictTally sum{};
  add(sum, first);
  CHECK(sum == first);
  add(sum, second);
  CHECK(sum == VerdictTally{11, 2, 3, 44, 5, 66});
  VerdictTally other_way_round{};
  add(other_way_round, second);
  add(other_way_round, first);
  CHECK(other_way_round == sum);
}

TEST_CASE("A tally has a place for every class, by its value") {
  VerdictTally tally{};
  for (const VerdictClass verdict_class : all_verdict_classes)
    ++tally.at(static_cast<std::size_t>(verdict_class));
  for (const std::uint64_t count : tally)
    CHECK(count == 1);
}
