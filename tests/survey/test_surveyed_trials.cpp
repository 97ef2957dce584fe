#include "survey/surveyed_trials.hpp"

#include "support/support.hpp"

using namespace eggfall;
using Catch::Matchers::Contains;
using support::input_error;

namespace {

Trial trial(const std::string& name, std::optional<int> year = std::nullopt) {
  Trial made;
  made.name = name;
  Group group;
  group.name = "white";
  group.year = year;
  group.animals.resize(3);
  made.groups.push_back(std::move(group));
  return made;
}

} // namespace

TEST_CASE("The trials of several tables are numbered through, and those of other shards left out") {
  SurveyedTrials trials({2, 2}, true);
  CHECK_FALSE(trials.take(trial("a"), Source("one.csv")));
  const auto second = trials.take(trial("b"), Source("one.csv"));
  REQUIRE(second);
  CHECK(second->number == 2);
  CHECK(second->trial.name == "b");
  CHECK_FALSE(trials.take(trial("c"), Source("two.csv")));
  CHECK(trials.take(trial("d"), Source("two.csv"))->number == 4);
  CHECK(trials.in_tables() == SurveySize{4, 4, 12, 0});
  CHECK(trials.taken() == SurveySize{2, 2, 6, 0});
}

TEST_CASE("A trial that two tables have is refused, also by a shard that does not take it") {
  SurveyedTrials trials({2, 2}, true);
  trials.take(trial("a", 2030), Source("one.csv"));
  CHECK_NOTHROW(trials.take(trial("a", 2031), Source("two.csv"))); // another test of the farm
  CHECK_THAT(input_error([&] { trials.take(trial("a", 2030), Source("two.csv")); }),
             Contains("two.csv") && Contains("\"a\" again"));
}
