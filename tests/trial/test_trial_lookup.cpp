#include "trial/trial_lookup.hpp"

#include "support/support.hpp"

#include <type_traits>
#include <vector>

using namespace eggfall;

TEST_CASE("The counts of an occasion are those of the animals that have one") {
  Group group = support::group("white", {12, 3, 7}, {1, 0, 2}, 50, 25);
  group.animals[1].before.reset();
  const std::vector<Count> before = counts_when(group.animals, &Animal::before);
  REQUIRE(before.size() == 2);
  CHECK(before[0].eggs == EggsSeen(12));
  CHECK(before[1].eggs == EggsSeen(7));
  const std::vector<Count> after = counts_when(group.animals, &Animal::after);
  REQUIRE(after.size() == 3);
  CHECK(after[1].eggs == EggsSeen(0));
  CHECK(after[1].factor == MultiplicationFactor(25));
  CHECK(counts_when({}, &Animal::before).empty());
}

TEST_CASE("The first group of a role is found, and may be changed if the trial may") {
  Trial trial;
  trial.groups.resize(3);
  trial.groups[0].role = Role::control;
  CHECK(&group_of(trial, Role::control) == &trial.groups[0]);
  group_of(trial, Role::treated).name = "white";
  CHECK(trial.groups[1].name == "white");
  CHECK(trial.groups[2].name.empty());

  const Trial& constant = trial;
  static_assert(std::is_same_v<decltype(group_of(constant, Role::treated)), const Group&>);
  CHECK(&group_of(constant, Role::treated) == &trial.groups[1]);
}
