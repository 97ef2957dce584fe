#include "trial/egg_kinds.hpp"

#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;

namespace {

/// Two animals with main counts; only the second has eggs of other worms.
Group with_kinds() {
  Group group = support::group("white", {12, 30}, {1, 2}, 50, 50);
  group.worm = "strongyles";
  group.classes = {DrugClass::bz};
  group.animals[0].repeats_before = support::counts({6, 6}, 100);
  group.animals[1].kinds["nematodirus"] = {support::counts({4}, 50)[0],
                                           support::counts({3}, 50)[0]};
  group.animals[1].kinds["ascarids"].before = support::counts({9}, 50)[0];
  group.culture_before = {{"haemonchus", 62}, {"nematodirus", 30}, {"cooperia", 8}};
  group.culture_after = {{"nematodirus", 5}};
  return group;
}

} // namespace

TEST_CASE("The kinds of eggs of a group are those of any of its animals, by name") {
  CHECK(kinds_told_apart(with_kinds()) == std::vector<std::string>{"ascarids", "nematodirus"});
  CHECK(kinds_told_apart(support::group("white", {12}, {1})).empty());
}

TEST_CASE("A group of one kind of egg has its counts in place of the others") {
  const Group kind = of_kind(with_kinds(), "nematodirus");
  CHECK(kind.name == "white");
  CHECK(kind.worm == "nematodirus");
  REQUIRE(kind.animals.size() == 2);
  // No such eggs were counted of the first animal, whose main counts are no substitute.
  CHECK_FALSE(kind.animals[0].before);
  CHECK_FALSE(kind.animals[0].after);
  CHECK(kind.animals[0].repeats_before.empty());
  CHECK(kind.animals[1].before->eggs == EggsSeen(4));
  CHECK(kind.animals[1].after->eggs == EggsSeen(3));
  CHECK(kind.animals[1].kinds.empty());
  // The cultures are of all worms together.
  CHECK(kind.culture_before.empty());
  CHECK(kind.culture_after.empty());

  const Group half = of_kind(with_kinds(), "ascarids");
  CHECK(half.animals[1].before->eggs == EggsSeen(9));
  CHECK_FALSE(half.animals[1].after);
}

TEST_CASE("Larvae of worms told apart by their eggs are taken out of the cultures") {
  const Group rest = without_larvae_of(with_kinds(), {"ascarids", "nematodirus"});
  CHECK(rest.culture_before == Culture{{"haemonchus", 62}, {"cooperia", 8}});
  CHECK(rest.culture_after.empty());
  CHECK(rest.host == "sheep");
  CHECK(rest.classes == std::vector<DrugClass>{DrugClass::bz});
  CHECK(rest.animals.empty());
  CHECK(without_larvae_of(with_kinds(), {}).culture_before == with_kinds().culture_before);
}

TEST_CASE("Percentages that are left out leave no more than the rest") {
  Group group;
  group.culture_before.percentages = PercentCulture{50, false, 1};
  // 20.5% and 80.5%: together more than all, by rounding.
  group.culture_before.worms = {{"nematodirus", 10.25, LarvaeRange{10, 10.5}},
                                {"cooperia", 40.25, LarvaeRange{40, 40.5}}};
  const Culture rest = without_larvae_of(group, {"nematodirus"}).culture_before;
  CHECK(total_larvae(rest) == 39.75);
  REQUIRE(rest.worms.size() == 1);
  CHECK(rest.worms[0].larvae == 39.75);
  CHECK(rest.worms[0].open == LarvaeRange{39.75, 39.75});
}
